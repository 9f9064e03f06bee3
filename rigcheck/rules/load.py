"""A pack loaded from its folders: the prepared one at once, or all files read and checked."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from rigcheck.rules.layer import Layer, files_below
from rigcheck.rules.pack import Pack
from rigcheck.rules.pack_json import PREPARED_NAME, PREPARED_TOO, Damaged, content_digest, from_json, prepared_content

__all__ = ["load_pack"]


def load_pack(*folders: Path, tell: Callable[[str], None] | None = None) -> Pack:
    """Return the pack of folders, later ones laid on earlier ones.

    `tell` takes what the user should know though it stops nothing: that a prepared pack was not used.
    Raises `Refused` with the faults of all files at once, OSError if a folder cannot be read.
    """
    layers = [Layer(folder) for folder in folders]
    try:
        ready = _ready_pack(layers[0])
    except Damaged:
        ready = None
        if tell is not None:
            tell(f"{layers[0].folder / PREPARED_NAME} is damaged; the rule files beside it are read instead.")
    if ready is not None and len(layers) == 1:
        return ready
    # Reading YAML needs the libraries that check it; an installed rigcheck starts without them.
    from rigcheck.rules.pack_from_yaml import assemble_pack

    return assemble_pack(layers, ready)


def _ready_pack(layer: Layer) -> Pack | None:
    """Return the pack that was prepared when the wheel was built, if the files are still the same. Raises `Damaged`."""
    path = layer.folder / PREPARED_NAME
    content = prepared_content(path.read_bytes(), layer.digest()) if path.is_file() else None
    if content is None:
        return None
    procedures, looks = files_below([layer], "procedures"), files_below([layer], "looks")
    made = from_json(content, layer.label)
    kept = {sort: read for sort in PREPARED_TOO if (read := made.pop(sort)) is not None}
    pack = Pack(
        laid=(),
        digest=content_digest(content, (*procedures, *looks)),
        procedure_files=procedures,
        look_files=looks,
        folders=(layer.folder,),
        **made,
    )
    pack.kept.update(kept)
    return pack

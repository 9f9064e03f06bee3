"""A pack loaded from its folders: the prepared one at once, or all files read and checked."""

from __future__ import annotations

from pathlib import Path

from rigcheck.rules.layer import Layer, files_below
from rigcheck.rules.pack import Pack
from rigcheck.rules.pack_json import PREPARED_NAME, from_json

__all__ = ["load_pack"]


def load_pack(*folders: Path) -> Pack:
    """Return the pack of folders, later ones laid on earlier ones.

    Raises `Refused` with the faults of all files at once, OSError if a folder cannot be read.
    """
    layers = [Layer(folder) for folder in folders]
    ready = _ready_pack(layers[0]) if len(layers) == 1 else None
    if ready is not None:
        return ready
    # Reading YAML needs the libraries that check it; an installed rigcheck starts without them.
    from rigcheck.rules.pack_from_yaml import assemble_pack

    return assemble_pack(layers)


def _ready_pack(layer: Layer) -> Pack | None:
    """Return the pack that was prepared when the wheel was built, if the files are still the same."""
    path, digest = layer.folder / PREPARED_NAME, layer.digest()
    found = from_json(path.read_bytes(), digest, str(layer.folder)) if path.is_file() else None
    if found is None:
        return None
    return Pack(
        *found,
        replaced=(),
        loosened=(),
        digest=digest,
        procedure_files=files_below([layer], "procedures"),
        look_files=files_below([layer], "looks"),
        folders=(layer.folder,),
    )

"""The topics that rules are sorted into: what belongs into each folder, as its index page says."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct
from pydantic import BaseModel, ConfigDict, Field

from rigcheck.rules.layer import INDEX
from rigcheck.rules.pack import Pack
from rigcheck.text.binding import bind
from rigcheck.text.faults import Fault, Refused, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import read_yaml

__all__ = ["Topic", "topics_of"]


class TopicFile(BaseModel):
    """The shape of an index page, `rules/<topic>/index.yaml`."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    topic: str = Field(description="The name of the folder.")
    means: str = Field(min_length=10, description="What belongs here.")
    elsewhere: str = Field("", description="What one may look for here, and where it stands.")
    looks_at: list[str] = Field(min_length=1, description="The kinds of things that its rules look at.")


class Topic(Struct, frozen=True):
    """One topic: what belongs there, what stands elsewhere, and the kinds of things that its rules look at."""

    name: str
    means: str
    elsewhere: str
    looks_at: tuple[str, ...]


def topics_of(pack: Pack) -> Mapping[str, Topic]:
    """Return the topics of a pack that have an index page, by name. Raises `Refused`."""
    kept: Mapping[str, Topic] | None = pack.kept.get("topics")
    if kept is None:
        pages = [page for folder in pack.folders for page in sorted(folder.glob(f"*/{INDEX}"))]
        kept = pack.kept["topics"] = {page.parent.name: _topic(page.read_bytes(), str(page)) for page in pages}
    return kept


def _topic(data: bytes, file: str) -> Topic:
    entry = bind(TopicFile, read_yaml(data, file), file)
    folder = Place(file, 1, 1)
    if f"/{entry.topic}/" not in f"/{file.replace(chr(92), '/')}":
        read = f"The page of this folder says that it is {shown_text(entry.topic)}."
        raise Refused([Fault(folder, read, "Write the name of the folder under 'topic:'.")])
    return Topic(entry.topic, entry.means, entry.elsewhere, tuple(entry.looks_at))

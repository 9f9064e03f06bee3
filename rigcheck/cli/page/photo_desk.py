"""Photos of what is looked at: kept beside the look under a name of their own, and read by nobody here."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import quote

from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rigcheck.asking.page_name import page_named, read_page_name
from rigcheck.cli.console import ProblemFound
from rigcheck.cli.draft import new_file
from rigcheck.cli.page.gate import NotTaken
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.telling import onward, telling, visit_of
from rigcheck.cli.page.visit import Visit

__all__ = ["PhotoDesk", "photos_of"]

_MOST = 1000  # photos of one look
_BEGINNINGS = {b"\xff\xd8\xff": "jpg", b"\x89PNG\r\n\x1a\n": "png"}  # JFIF and Exif (ITU-T T.81), PNG (ISO 15948)


class PhotoDesk:
    """Takes photos in."""

    def __init__(self, round_: Round) -> None:
        self.round = round_

    def routes(self) -> list[Route]:
        """Return what leads here."""
        return [Route("/photo", self.keep, methods=["POST"])]

    @telling
    async def keep(self, request: Request) -> Response:
        """Keep a photo of what a question is about, and show the question once more."""
        visit = visit_of(request)
        name, data = await _sent(request)
        visit.begin()
        visit.read()
        page = page_named(read_page_name(name), visit.judged, self.round.looks, visit.walk)
        _keep(visit, page.look.name, data)
        visit.saved = "The photo is kept."
        return onward(f"/ask?page={quote(name)}")


async def _sent(request: Request) -> tuple[str, bytes]:
    """Return the name of a page and the photo that were sent. Raises `NotTaken`."""
    try:
        form = await request.form(max_files=1, max_fields=4)
    except HTTPException:
        raise NotTaken("The photo did not arrive whole. Send it once more.") from None
    photo, name = form.get("photo"), form.get("page")
    data = await photo.read() if isinstance(photo, UploadFile) else b""
    await form.close()
    if not data:
        raise NotTaken("No photo was chosen. Choose one, then keep it.")
    return name if isinstance(name, str) else "", data


def _keep(visit: Visit, look: str, data: bytes) -> None:
    ending = _ending(data)
    if not ending:
        raise NotTaken("That is no JPEG, PNG or WebP picture. Take the photo in one of these.")
    folder = _album(visit)
    folder.mkdir(exist_ok=True)
    number = max((_number(path) for path in folder.iterdir()), default=0) + 1
    if number > _MOST:
        raise ProblemFound(f"There are {_MOST} photos in {folder.name}; take some away.")
    new_file(folder / f"{number:03}-{look}.{ending}", data)


def _number(path: Path) -> int:
    begins = path.name.partition("-")[0]
    return int(begins) if begins.isdecimal() else 0


def _ending(data: bytes) -> str:
    """Return the ending that a picture gets; empty where it is none. No more of it is looked at."""
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "webp"
    return next((ending for begins, ending in _BEGINNINGS.items() if data.startswith(begins)), "")


def _album(visit: Visit) -> Path:
    assert visit.going is not None
    look = Path(visit.going.look)
    return look.with_name(f"{look.stem}-photos")


def photos_of(visit: Visit, look: str = "") -> tuple[str, tuple[str, ...]]:
    """Return the folder of the photos of a walk, by name, and the names of those of a look, or of all."""
    if visit.going is None or not _album(visit).is_dir():
        return "", ()
    names = sorted(path.name for path in _album(visit).iterdir())
    return _album(visit).name, tuple(
        name for name in names if not look or name.partition("-")[2].startswith(f"{look}.")
    )

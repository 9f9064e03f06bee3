"""The commissioning files of all templates and sites, looked at by programs that are not ours.

Run by hand: `python tests/pages/check_pages.py` (some minutes). It needs Chromium, Node.js with npm, and
pdftotext; `--modules DIR` names a folder where `npm install axe-core puppeteer-core` was done, else that is done
in a temporary one. Each page is opened at 320, 800 and 1280 px (WCAG 2.2, 1.4.10 asks for 320), light and dark,
checked by an accessibility engine, and printed; the text of the PDF must hold every finding and the caution.
`--keep DIR` keeps pictures and PDFs. Ends with 1 where something is wrong.
"""

from __future__ import annotations

import argparse
import json
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

_ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(_ROOT))

from rigcheck import configs_folder, load_pack, load_rig, rules_folder  # noqa: E402
from rigcheck.report.html.file_page import file_page  # noqa: E402
from rigcheck.report.text.inspection_text import CAUTION  # noqa: E402
from rigcheck.tasks.commissioning_file import RigFile, compile_file  # noqa: E402

_DAY = date(2026, 11, 25).toordinal()
_WIDTHS = (320, 800, 1280)
_LOOK = Path(__file__).with_name("look.mjs")


def main() -> int:
    """Make the pages, have them looked at, and tell what is wrong."""
    asked = _arguments()
    with tempfile.TemporaryDirectory() as scratch:
        folder = asked.keep or Path(scratch) / "pages"
        folder.mkdir(parents=True, exist_ok=True)
        files = {path.stem: _compiled(path) for path in _chosen(asked.names)}
        for name, file in files.items():
            (folder / f"{name}.html").write_text(file_page(file), encoding="utf-8")
        modules = asked.modules or _installed(Path(scratch) / "npm")
        told = _looked_at(asked.chromium, modules, list(files), folder)
        wrong = [*_complaints(told), *(one for name in files for one in _lost_in_print(name, files[name], folder))]
    for one in wrong:
        print(one)
    print(f"{len(files)} pages, {sum('scheme' in one for one in told)} views: {len(wrong)} complaints.")
    return 1 if wrong else 0


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", help="only the templates and sites of these names")
    parser.add_argument("--modules", type=Path, help="a folder with axe-core and puppeteer-core")
    parser.add_argument("--chromium", default=shutil.which("chromium") or "/usr/bin/chromium")
    parser.add_argument("--keep", type=Path, help="keep pages, pictures and PDFs there")
    return parser.parse_args()


def _chosen(names: list[str]) -> list[Path]:
    found = sorted(path for kind in ("templates", "sites") for path in (configs_folder() / kind).glob("[!.]*.yaml"))
    return [path for path in found if not names or path.stem in names]


def _compiled(path: Path) -> RigFile:
    pack = load_pack(rules_folder())
    return compile_file(load_rig(path.read_bytes(), path.name, pack.vocabulary), pack, day=_DAY)


def _installed(folder: Path) -> Path:
    folder.mkdir()
    command = ["npm", "install", "--silent", "--prefix", str(folder), "axe-core", "puppeteer-core"]
    subprocess.run(command, check=True)
    return folder


def _looked_at(chromium: str, modules: Path, names: list[str], folder: Path) -> list[dict[str, Any]]:
    pages = [{"name": name, "path": str((folder / f"{name}.html").resolve())} for name in names]
    asked = {"chromium": chromium, "modules": str(modules.resolve()), "pages": pages, "widths": _WIDTHS}
    asked["folder"] = str(folder.resolve())
    done = subprocess.run(["node", _LOOK], input=json.dumps(asked), text=True, capture_output=True, check=False)
    if done.returncode:
        sys.exit(done.stderr)
    found: list[dict[str, Any]] = json.loads(done.stdout)
    return found


def _complaints(told: list[dict[str, Any]]) -> Iterator[str]:
    for one in told:
        if "scheme" not in one:
            yield from (f"{one['name']}: fetches {url}" for url in one["fetched"])
            continue
        view = f"{one['name']}, {one['width']} px, {one['scheme']}"
        if one["across"] > one["width"]:
            yield f"{view}: {one['across']} px wide"
        for found in one["violations"]:
            yield f"{view}: {found['impact']} {found['rule']} x{found['count']} at {found['where']}: {found['why']}"


def _lost_in_print(name: str, file: RigFile, folder: Path) -> Iterator[str]:
    """Yield what the PDF does not say."""
    done = subprocess.run(
        ["pdftotext", "-layout", folder / f"{name}.pdf", "-"], text=True, capture_output=True, check=True
    )
    text = _letters(done.stdout)
    wanted = [CAUTION, file.inspection.file, *(sheet.title for sheet in file.sheets)]
    wanted += [part for one in file.inspection.findings for part in (one.claim, one.put_right)]
    raw = subprocess.run(["pdftotext", folder / f"{name}.pdf", "-"], text=True, capture_output=True, check=True)
    text += _letters(raw.stdout)
    yield from (f"{name}: the PDF lacks {one!r}" for one in wanted if _letters(one) not in text)


def _letters(text: str) -> str:
    """Return the letters and digits alone: printing breaks rows anywhere."""
    return re.sub(r"\W+", "", text).lower()


if __name__ == "__main__":
    sys.exit(main())

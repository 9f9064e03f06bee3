"""How many answers a walk takes: `python tests/bench/asking.py [NAME ...]`, all standard rigs unless some are named.

Somebody who looks well answers as the standard rig says, and what that leaves open as it is where nothing is wrong. A
page is one answer, whether about one thing or about all of its kind; an act is one handling of a thing, which answers
the pages of its look one after the other. `again` counts, of the answers, those of the page before gas is let on;
`after work` those of a daily look that are asked when the work is over, besides the others.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))  # what tests share
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from support.simulated_people import Round, bare, knows_all, seen_whole, sound, walked

import rigcheck
from rigcheck.rig.thing import Rig
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Signal

_ROUNDS: tuple[tuple[str, Signal], ...] = (("danger", "danger"), ("caution", "caution"))
_THE_DAY_BEFORE = "2026-11-24"


def measure(name: str, pack: Pack) -> None:
    """Print the answers and acts for one rig: from its standard rig, from its bare parts, and for the day."""
    path = next(iter([*rigcheck.configs_folder().glob(f"*/{name}.yaml")]))
    text = path.read_text(encoding="utf-8")
    truth = Round(text.encode(), pack, text=sound(text.encode(), pack)).judged().known.filled
    presumed = f"rig: {name}\nlocal_code: general\nstandard_rig: {path}\n".encode()
    for beginning, description in (("standard", presumed), ("blank", bare(text))):
        for label, only in _ROUNDS:
            _walk(f"{name:32} {beginning:9} {label}", Round(description, pack, only=only), truth)
    daily = Round(text.encode(), pack, purpose="use", only="danger", record=seen_whole(truth, _THE_DAY_BEFORE))
    _walk(f"{name:32} daily     danger", daily, truth)


def _walk(label: str, went: Round, truth: Rig) -> None:
    end = walked(went, knows_all(truth), finds=False)
    acts, again = len({page.act for page in went.pages}), sum(page.again for page in went.pages)
    after = sum(page.after_work for page in went.pages) if went.purpose == "use" else 0
    told = f"{label:55} {len(went.pages) - after:4} answers {acts:4} acts {again:3} again {after:3} after work"
    print(f"{told} {len(end.findings):3} findings, open: {end.left.get('danger', 0)} DANGER", flush=True)


if __name__ == "__main__":
    pack = load_pack(rigcheck.rules_folder())
    names = sys.argv[1:] or [one.stem for one in sorted((rigcheck.configs_folder() / "templates").glob("*.yaml"))]
    for name in names:
        measure(name, pack)

"""A rule about a trait that says more sharply what it is of one kind."""

from __future__ import annotations

from support.small_rules import RulesFolder

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.rules.pack_from_yaml import prepare_pack
from rigcheck.rules.pack_json import from_json

_RULE = """\
claim: The part is sound as far as a close look tells.
signal: caution
looks_at: worn
holds:
  condition: {const: sound}
harm: It leaks and burns.
put_right: Replace the part.
for:
  hose:
    signal: danger
    harm: It bursts in the hand.
drawn_from:
  - common practice
proven_by:
  - {case: sound,  condition: sound, verdict: holds}
  - {case: burnt,  condition: burnt, verdict: broken}
  - {case: unseen,                   verdict: unproven}
"""
_RIG = """\
rig: r
lines: [{gas: oxygen, parts: [cylinder: {condition: dented}, hose: {condition: burnt}]}]
torch: {condition: sound}
"""


def _inspected(pack: Pack) -> Inspection:
    return inspect_rig(load_rig(_RIG.encode(), "r.yaml", pack.vocabulary), pack, day=739945)


def test_a_kind_has_its_own_signal_and_harm_and_the_claim_and_cure_of_all(folder: RulesFolder) -> None:
    folder.write("worn/sound.yaml", _RULE)
    found = {one.thing: one for one in _inspected(folder.pack()).findings if one.rule == "worn/sound"}
    hose, cylinder = found["oxygen hose"], found["oxygen cylinder"]
    assert (hose.signal, hose.harm, hose.put_right) == ("danger", "It bursts in the hand.", "Replace the part.")
    assert (cylinder.signal, cylinder.harm, cylinder.claim) == ("caution", "It leaks and burns.", hose.claim)


def test_what_is_sharper_of_a_kind_is_prepared_with_the_pack(folder: RulesFolder) -> None:
    folder.write("worn/sound.yaml", _RULE)
    _, _, content = prepare_pack(folder.path).partition(b"\n")  # its first line vouches for the rest
    prepared = from_json(content, str(folder.path))
    rule = prepared["rules"]["worn/sound"]
    assert rule.at(prepared["vocabulary"].kinds["hose"]).harm == "It bursts in the hand."
    assert rule.at(prepared["vocabulary"].kinds["cylinder"]) is rule

"""What people write of a rig by hand is read as the word that it means, and not as one that says something better.

Which words people use: common practice.
"""

from __future__ import annotations

import pytest

from rigcheck.quantity.notation import NotRead
from rigcheck.rules.pack import Pack

_MEANT = """
cylinder secured: chained = chain; ratchet strap = strap; not secured = none
cylinder valve_leak: leaks = somewhere; yes = somewhere; no = tight; spindle = gland
cylinder cap: none = off; missing = off; on = fitted
cylinder shell: rusty = corroded; ok = sound
cylinder valve_seat: yes = clean; damaged = scored
hose cover: worn through = reinforcement-showing; burned = burnt; damaged = cut
hose repaired_with: insulating tape = tape; no = nothing
arrester direction: backwards = against-flow; yes = with-flow; no = against-flow
arrester test_result: pass = passed; no = failed
regulator knob_before_opening: screwed in = wound-in; no = wound-in
gauge glass: broken = cracked
gauge pointer: not at zero = off-zero; 0 = at-zero
joint leak_test: bubbles = leaks; leaking = leaks; no leaks = tight; no bubbles = tight
site place: field = open-air; manhole = confined-space; silo = confined-space; excavation = pit
site combustibles: cleared = removed; tarpaulin = covered-otherwise; left = unprotected; nothing near = none; no = none
site floor: concrete = non-burning; boards = burning
job process: silver soldering = brazing; preheating = heating; roofing = heating; flame cutting = cutting
job hot_work_permit: no = not-issued; none = not-issued; verbal = not-issued; yes = issued
person role: apprentice = trainee; pupil = trainee; hole watch = attendant
person eye_protection: safety glasses = clear-goggles; welding mask = filter-face-shield
person uses_oxygen_for: dusting off = dusting; no = gas-work
tools lighter: disposable lighter = cigarette-lighter; striker = friction-lighter
workpiece last_held: solvent = flammable-liquid; LPG = flammable-gas; flour = dust
workpiece cleaned: no = not-cleaned; rinsed with water = rinsed-only; drained = not-cleaned
workpiece filler: silver solder = nobody-knows; yes = holds-cadmium; no = holds-no-cadmium
workpiece coating: red lead = lead-paint; unknown paint = nobody-knows; chrome = chromium
pause cylinder_valves: shut = closed; no = open
carriage vehicle: ute = open-vehicle; bakkie = open-vehicle; panel van = closed-unventilated
carriage regulators: removed = taken-off; on = left-on
torch lance_valve: no = stays-open
rig last_change: new hose = part-replaced; flashback = backfire
hose cover: nicked = cut; scorched = burnt; rotten = cracked; diesel on it = oil-soaked
hose run: under the trolley wheel = under-wheels; over the shoulder = round-body
gauge pointer: sticks = stuck
cylinder secured: bungee = none; against the wall = leaning
cylinder valve_leak: hissing = somewhere; hissing at the gland = gland
cylinder filled_by: from a bigger one = decanted; topped up = decanted
torch put_down: hung on the bottle = on-cylinder; left burning = lit-unattended
hose end clip: worm clip = worm-drive; no clip = none
hose pair held_by: duct tape = tape
person clothing: nylon overalls = synthetic; jeans = cotton
site place: inspection pit = pit; double bottom = ship-tank
pause cylinders_left: in the van = closed-vehicle
pause torch_and_hoses: left down the tank = left-in-closed-space
store placed: under the stairs = stairway
workpiece filled_with: nothing = air
"""

_YES_OR_NO = """
cylinder upright: laid down = no; on its side = no
hose kinked: flattened = yes
regulator holds_set_pressure: creeps = no
control valve shuts_off: weeps = no
job fire_watch: nobody = no
site flammable_vapour: smell of petrol = yes
tools extinguisher_charged: empty = no
pause attended: left alone = no
"""

_TWO_MEANINGS = {
    "hose bend_test: yes": "it was done, or cracks open",
    "hose end leak_test: yes": "it was done, or it is tight",
    "hose end leak_test: no": "it was not done, or it leaks",
    "cylinder valve_opened: yes": "the valve is open, or it is opened slowly",
    "arrester flashback_history: no": "there was none, or it was put back without a test",
    "carriage regulators: yes": "they are on, or they are taken off",
    "workpiece cleaned: yes": "somehow",
    "site fire_system: no": "there is none, or it is shut off",
    "person eye_protection: goggles": "clear ones, or with a filter",
    "pause torch_and_hoses: disconnected": "at the supply, or at the torch",
    "tools leak_fluid: spray": "for oxygen, or not",
    "person clothing: overalls": "of cotton, or treated, or of something that melts",
}


def _rows(meant: str) -> list[tuple[str, str, str, str]]:
    rows = []
    for line in meant.strip().splitlines():
        thing, _, pairs = line.partition(": ")
        kind, _, fact = thing.rpartition(" ")
        rows += [(kind, fact, *pair.strip().split(" = ")) for pair in pairs.split(";")]
    return rows


@pytest.mark.parametrize(("kind", "fact", "text", "word"), _rows(_MEANT))
def test_what_people_write_is_read_as_what_it_means(kind: str, fact: str, text: str, word: str, pack: Pack) -> None:
    assert pack.vocabulary.kinds[kind].facts[fact].read(text) == word


@pytest.mark.parametrize(("kind", "fact", "text", "word"), _rows(_YES_OR_NO))
def test_what_people_write_for_yes_or_no_is_read_so(kind: str, fact: str, text: str, word: str, pack: Pack) -> None:
    assert pack.vocabulary.kinds[kind].facts[fact].read(text) is (word == "yes")


def test_a_day_that_never_was_is_none(pack: Pack) -> None:
    assert pack.vocabulary.kinds["arrester"].facts["tested"].read("Never") is None


@pytest.mark.parametrize("said", _TWO_MEANINGS)
def test_what_can_mean_two_things_is_asked_back(said: str, pack: Pack) -> None:
    thing, _, text = said.partition(": ")
    kind, _, fact = thing.rpartition(" ")
    with pytest.raises(NotRead):
        pack.vocabulary.kinds[kind].facts[fact].read(text)


def test_no_word_that_people_write_is_one_of_two_things(pack: Pack) -> None:
    wrong = [
        f"{kind.name} {fact.name}: {text}"
        for kind in pack.vocabulary.kinds.values()
        for fact in kind.facts.values()
        for text, word in fact.also_written.items()
        if word not in (fact.words or ("yes", "no")) or text in fact.words
    ]
    assert wrong == []

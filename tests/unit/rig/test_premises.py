"""A site file read: names that lead to what they mean, pairs that nobody wrote, and what cannot be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from rigcheck.quantity.interval import equal_to
from rigcheck.quantity.notation import read_quantity
from rigcheck.quantity.truth import TRUE
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rig.premises import load_premises
from rigcheck.rig.shared_facts import shared_facts
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused
from rigcheck.text.place import Place

SITE = """\
site: Little yard
buildings:
  - {name: shed, volume: 600 m3}
stores:
  - {name: cage, stands_in: outdoors, gases: [oxygen]}
  - {name: box, stands_in: shed, gases: [propane]}
rigs:
  - {file: one.yaml, stands_in: shed, under_permit: first}
permits:
  - {name: first}
separations:
  - {first: cage, second: box, distance: 2 m}
"""


def _stand(path: str) -> tuple[Mapping[str, Any], Place]:
    return {"name": "The one", "welders": read_quantity("2", "count")}, Place(path, 1, 1)


def _loaded(text: str, pack: Pack) -> Rig:
    return load_premises(text.encode(), "yard.yaml", pack.vocabulary, _stand)


def _said(text: str, pack: Pack) -> str:
    with pytest.raises(Refused) as refused:
        _loaded(text, pack)
    return str(refused.value)


def _named(rig: Rig, name: str) -> Thing:
    return next(thing for thing in rig.things if thing.facts.get("name") == name)


def test_a_building_leads_to_the_stores_and_rigs_in_it(pack: Pack) -> None:
    rig = _loaded(SITE, pack)
    shed = _named(rig, "shed")
    assert shed.facts["stores"] == (_named(rig, "box"),)
    assert shed.facts["rigs"] == (_named(rig, "The one"),)
    assert _named(rig, "cage").facts["building"] is None


def test_a_rig_leads_to_its_permit_and_the_permit_to_its_rigs(pack: Pack) -> None:
    rig = _loaded(SITE, pack)
    assert _named(rig, "The one").facts["permit"] is _named(rig, "first")
    assert _named(rig, "first").facts["rigs"] == (_named(rig, "The one"),)


def test_every_two_stores_and_rigs_are_a_pair_whether_somebody_wrote_it_or_not(pack: Pack) -> None:
    pairs = [thing.label for thing in _loaded(SITE, pack).of_kind("separation")]
    assert pairs == ["separation of cage and box", "separation of cage and The one", "separation of box and The one"]


def test_what_the_site_states_of_a_rig_stands_against_what_the_rigs_file_says(pack: Pack) -> None:
    rig = _named(_loaded(SITE.replace("under_permit: first", "under_permit: first, welders: 5"), pack), "The one")
    assert equal_to(rig.facts["welders"], read_quantity("5", "count")) is TRUE
    taken = _named(_loaded(SITE, pack), "The one")
    assert taken.places["welders"] == Place("one.yaml", 1, 1)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("site: Little yard", "place: Little yard", "This is no site file"),
        ("stands_in: shed, gases", "stands_in: shad, gases", "No building is called 'shad'"),
        ("second: box", "second: bocks", "No store or rig is called 'bocks'"),
        ("under_permit: first", "under_permit: last", "No permit is called 'last'"),
        ("{name: box", "{name: cage", "A second one is called 'cage'"),
        ("{file: one.yaml, ", "{", "This entry names no rig file"),
        ("rigs:\n", "shared: people\nrigs:\n", "What the rigs share is no mapping"),
    ],
)
def test_a_site_that_cannot_be_is_refused_in_its_place(old: str, new: str, said: str, pack: Pack) -> None:
    assert said in _said(SITE.replace(old, new), pack)


# --- what the rigs of a site share ---

RIG = """\
rig: One
stands_at: yard.yaml
site: {place: workshop}
people: [{role: user}]
lines: [{gas: oxygen, parts: [cylinder]}]
"""
SHARED = b"""\
site: Yard
shared:
  site: {place: open-air, sunlit: true}
  tools: {water: true}
  people: [{role: helper}]
"""


def _with(shared: bytes, pack: Pack, rig: str = RIG) -> Rig:
    facts = shared_facts(shared, "yard.yaml", pack.vocabulary)
    return load_rig(rig.encode(), "one.yaml", pack.vocabulary, Around(site_of=lambda path: facts))


def test_a_shared_fact_reaches_the_rig_with_its_place_in_the_site_file(pack: Pack) -> None:
    rig = _with(SHARED, pack)
    (site,) = rig.of_kind("site")
    assert site.facts["sunlit"] is True
    assert rig.place(site, "sunlit") == Place("yard.yaml", 3, 35)
    (tools,) = rig.of_kind("tools")
    assert rig.place(tools, "water") == Place("yard.yaml", 4, 18)


def test_what_the_rig_states_itself_stands(pack: Pack) -> None:
    rig = _with(SHARED, pack)
    (site,) = rig.of_kind("site")
    assert site.facts["place"] == "workshop"
    assert rig.place(site, "place") == Place("one.yaml", 3, 15)


def test_people_of_the_site_work_with_the_rig_beside_its_own(pack: Pack) -> None:
    rig = _with(SHARED, pack)
    assert [(one.facts["role"], rig.place(one).file) for one in rig.of_kind("person")] == [
        ("user", "one.yaml"),
        ("helper", "yard.yaml"),
    ]


def test_what_the_rig_says_is_not_there_is_not_brought_in(pack: Pack) -> None:
    rig = _with(SHARED, pack, RIG + "tools: none\n")
    assert list(rig.of_kind("tools")) == []


def test_a_line_of_gas_cannot_be_shared(pack: Pack) -> None:
    with pytest.raises(Refused, match="'lines' cannot be shared by the rigs of a site"):
        _with(SHARED + b"  lines: []\n", pack)


def test_a_rig_that_names_a_site_is_refused_where_no_site_can_be_read(pack: Pack) -> None:
    with pytest.raises(Refused, match=r"The site file 'yard\.yaml' cannot be reached from here"):
        load_rig(RIG.encode(), "one.yaml", pack.vocabulary)

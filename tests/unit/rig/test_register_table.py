"""A register as a table and back: RFC 4180, read by this project and by the csv module of the library."""

from __future__ import annotations

import csv
import io
import re

import pytest

from rigcheck.rig.fact import Fact
from rigcheck.rig.register import Register
from rigcheck.rig.register_reader import RegisterReader, load_register
from rigcheck.rig.register_rows import register_text, table_rows
from rigcheck.rig.register_table import TableRead, read_table
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused
from rigcheck.text.table_cell import guarded, unguarded

HEAD = "tag,kind,made,bore,gases\n"


def taken(pack: Pack, *texts: str) -> RegisterReader:
    reader = RegisterReader(pack.vocabulary, "stores.yaml")
    for text in texts:
        reader.take(text.encode(), "stores.yaml")
    return reader


def table(pack: Pack, text: str | bytes, *beside: str) -> TableRead:
    data = text if isinstance(text, bytes) else text.encode()
    return read_table(data, "t.csv", pack.vocabulary, taken(pack, *beside))


def read_back(pack: Pack, found: TableRead) -> Register:
    assert not found.faults
    return load_register([(register_text("s", found.things).encode(), "s.yaml")], pack.vocabulary, "s.yaml")


def told(found: TableRead) -> list[str]:
    return [str(one) for one in found.faults]


def test_a_row_is_a_thing_on_record(pack: Pack) -> None:
    found = read_back(pack, table(pack, HEAD + 'H-1,hose,2024-03,8 mm,"acetylene, hydrogen"\nR-1,regulator,,,\n'))
    facts = found.things["H-1"].facts
    assert (facts["made"].text, facts["bore"].text, facts["gases"]) == ("2024-03", "8 mm", ("acetylene", "hydrogen"))
    assert found.things["R-1"].kind.name == "regulator"


@pytest.mark.parametrize(
    "text",
    [
        "tag;kind;length\r\nH-1;hose;2,5 m\r\n",
        "\ufefftag\tkind\tlength\r\nH-1\those\t2.5 m\r\n",
        'Tag,Kind,Length\n"H-1","Hose","2.5 m"\n\n,,\n',
    ],
)
def test_a_table_as_spreadsheets_write_it(pack: Pack, text: str) -> None:
    assert read_back(pack, table(pack, text)).things["H-1"].facts["length"].lo == 2.5


@pytest.mark.parametrize(
    ("row", "place", "words"),
    [
        ("H-1,hose,2024-3x,8 mm,", "t.csv:2:3", "'2024-3x' is no day"),
        ("H-1,hose,,=A1*2,", "t.csv:2:4", "is a formula, or is taken for one"),
        ("H-1,hose,,@x,", "t.csv:2:4", "is a formula"),
        ("H-1,hose,,-8 mm,", "t.csv:2:4", "is a formula"),
        ("H-1,hoes,,,", "t.csv:2:2", "Nearest known word: hose"),
        ("H-1,line,,,", "t.csv:2:1", "A register keeps no line"),
        (",hose,,,", "t.csv:2:1", "The row has no tag"),
        ("H-1,,,,", "t.csv:2:1", "It is not said what this is"),
        ("H-1,regulator,,8 mm,", "t.csv:2:4", "'bore' is nothing known of a regulator"),
        ("H-1,hose,,,,9 m", "t.csv:2:6", "stands in no column that has a name"),
    ],
)
def test_a_row_that_cannot_be_read_is_told_by_line_and_cell_and_the_others_are_read(
    pack: Pack, row: str, place: str, words: str
) -> None:
    found = table(pack, f"{HEAD}{row}\nH-2,hose,2024-03,,\n")
    assert [one for one in told(found) if one.startswith(f"{place}: ") and words in one], told(found)
    assert (list(found.things), found.rows, found.refused) == (["H-2"], 2, 1)


def test_the_line_is_that_on_which_the_row_begins(pack: Pack) -> None:
    found = table(pack, 'tag,kind,name\nH-1,hose,"long\nname"\nH-2,hoes,\n')
    assert [one.place.line for one in found.faults if "hoes" in one.read] == [4]


def test_of_a_doubled_tag_neither_row_is_taken(pack: Pack) -> None:
    found = table(pack, HEAD + "H-1,hose,,,\nh-1,hose,2024-03,,\nH-2,hose,,,\n")
    assert [(one.place.line, one.place.column) for one in found.faults] == [(2, 1), (3, 1)]
    assert list(found.things) == ["H-2"]


def test_a_table_that_joins_a_register_names_its_kinds_and_takes_no_tag_of_it(pack: Pack) -> None:
    stores = "register: s\nkinds:\n  hose-20: {hose: {bore: 8 mm}}\nthings:\n  H-1: {hose: {}}\n"
    found = table(pack, "tag,kind,as,made\nh-1,,hose-20,\nH-2,,hose-20,2024-03\nH-3,regulator,hose-20,\n", stores)
    assert "stands in the register already, at stores.yaml:5:3" in told(found)[0]
    assert "'hose-20' is hose in the register, and regulator here" in told(found)[1]
    assert list(found.things) == ["H-2"]
    assert "is no kind of this register" in told(table(pack, "tag,as\nH-2,hose-20\n"))[0]


def test_columns_bear_the_names_and_units_that_people_write(pack: Pack) -> None:
    head = "Serial No.;Item;Made;Length (m);Bore [mm];Gas\n"
    rows = "H-1;hose;2022-03;2,5;8;acetylene\nH-2;hose;2022-03;250 cm;6.3;oxygen\n"
    found = read_back(pack, table(pack, head + rows))
    assert [found.things[tag].facts["length"].lo for tag in ("H-1", "H-2")] == [2.5, 2.5]
    assert [found.things[tag].facts["bore"].text for tag in ("H-1", "H-2")] == ["8 mm", "6.3 mm"]
    assert found.things["H-1"].facts["gases"] == ("acetylene",)


def test_a_column_that_is_no_fact_is_told_and_left_out_with_the_nearest_fact_that_shares_its_words(pack: Pack) -> None:
    found = table(pack, "tag,kind,Date made,bottle,length (furlongs)\nH-1,hose,2022-03,50 L,2\n")
    assert found.left_out == ("Date made", "bottle", "length (furlongs)")
    assert [one.rpartition("Nearest known word: ")[2] for one in told(found) if "Nearest" in one] == [
        "made.",
        "length.",
    ]
    assert list(found.things) == ["H-1"] and not found.refused


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ("made,bore\n2024,8 mm\n", "t.csv:1:1: The table has no column 'tag'."),
        ("tag,kind,boer\n", "t.csv:1:3: 'boer' is no fact of anything"),
        ("tag,kind,sorts\n", "t.csv:1:3: 'sorts' is no fact of anything"),
        ("tag,kind,made,Made\n", "t.csv:1:4: A second column is called 'made'."),
        ("", "t.csv:1:1: The table has no column 'tag'."),
        ("tag,kind\nH-1,h\xf6se\n".encode("latin-1"), "t.csv:2:1: This is no text in UTF-8."),
        ('tag,kind\nH-1,"hose\n', "t.csv:2:1: The row cannot be read"),
        ("tag,kind\nH-1,ho\0se\n", "t.csv:2:"),
    ],
)
def test_what_is_no_table_of_things_is_refused(pack: Pack, data: str | bytes, words: str) -> None:
    try:
        found = told(table(pack, data))
    except Refused as refused:
        found = str(refused).splitlines()
    assert [one for one in found if one.startswith(words)], found


def sample(fact: Fact) -> str:
    """A value that a fact takes."""
    if fact.measure == "several_words":
        return f"[{', '.join(list(fact.words)[:2])}]"
    if fact.words:
        return str(next(iter(fact.words)))
    plain = {"yes_no": "yes", "text": '"=odd, one"', "day": "2024-03", "share": "5 %", "angle": "5 deg"}
    return plain.get(fact.measure) or next(filter(None, (*fact.entry.likely, fact.entry.greatest, "2")))


def is_kept(fact: Fact) -> bool:
    return not (fact.computed or fact.entry.as_fitted or fact.name == "tag")


def full(pack: Pack, kind: Kind) -> str:
    """A thing of a kind with every fact that can be stated of it and of what is built into it."""
    facts = [f"{fact.name}: {sample(fact)}" for fact in kind.facts.values() if is_kept(fact)]
    for name, held in kind.holds.items():
        body = full(pack, pack.vocabulary.kinds[held.kind])
        facts.append(f"{name}: {f'[{body}, {{}}]' if held.many else body}")
    return f"{{{', '.join(facts)}}}"


def test_out_and_in_again_is_the_same_register(pack: Pack) -> None:
    """Everything that can be on record of everything comes back from a table as it was."""
    held = [one.kind for one in pack.vocabulary.kinds["register"].holds.values()]
    kinds = [k for k in pack.vocabulary.by_key.values() if any(one in k.lineage for one in held)]
    things = "".join(f"  X-{k.key}: {{{k.key}: {full(pack, k)}}}\n" for k in kinds)
    text = f"register: s\nkinds:\n  old: {{hose: {{made: 2014}}}}\nthings:\n{things}"
    text += "  =H: {as: old, cover: cut, withdrawn: damaged, withdrawn_since: 2026-10-02}\n"
    reader = taken(pack, text)
    before = reader.register()
    rows = "".join(table_rows(reader))
    alone = taken(pack, "register: s\nkinds:\n  old: {hose: {made: 2014}}\n")
    back = read_table(rows.encode(), "t.csv", pack.vocabulary, alone)
    assert not back.faults
    whole = register_text("s", back.things) + "kinds:\n  old: {hose: {made: '2014'}}\n"
    after = load_register([(whole.encode(), "s.yaml")], pack.vocabulary, "s.yaml")
    assert {tag: said(one) for tag, one in after.things.items()} == {t: said(one) for t, one in before.things.items()}
    assert {tag: said(one) for tag, one in after.withdrawn.items()} == {
        t: said(one) for t, one in before.withdrawn.items()
    }
    assert len(before.things) > 20


def said(thing: object) -> dict[str, object]:
    facts = thing.facts  # type: ignore[attr-defined]
    found: dict[str, object] = {}
    for name, value in facts.items():
        if type(value).__name__ == "Thing":
            found[name] = said(value) if name in thing.kind.holds else None  # type: ignore[attr-defined]
        elif isinstance(value, tuple) and value and type(value[0]).__name__ == "Thing":
            found[name] = [said(one) for one in value]
        else:
            found[name] = getattr(value, "text", value)
    return found


def test_no_cell_of_a_written_table_is_reckoned_with(pack: Pack) -> None:
    reader = taken(pack, "register: s\nthings:\n  -T1: {hose: {name: '=cmd|x'}}\n  T2: {hose: {name: \"'+1\"}}\n")
    reader.register()
    rows = list(csv.reader(io.StringIO("".join(table_rows(reader)), newline="")))
    assert rows[1] == ["'-T1", "hose", "", "'=cmd|x"]
    assert not [cell for row in rows for cell in row if cell.lstrip().startswith(("=", "+", "-", "@"))]


@pytest.mark.parametrize("cell", ["=1", " +1", "'-1", "''@x", "'plain", "8 mm", "", "＝1"])
def test_a_guarded_cell_comes_back(cell: str) -> None:
    assert unguarded(guarded(cell)) == cell


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        (",".join(["tag", "kind", *(f"c{n}" for n in range(1_000))]) + "\n", "more than 1,000 columns. Cut it"),
        ("tag,kind\n" + "a,hose\n" * 50_001, "more than 50,000 rows. Cut it"),
        ("tag,kind\nH\u202e1,hose\n", "t.csv:2:2: The character U+202E does not show"),
        ("tag,kind\nH-1,ho\0se\n", "t.csv:2:7: The character U+0000 does not show"),
    ],
    ids=["columns", "rows", "a letter that turns others", "NUL"],
)
def test_a_table_that_no_register_could_be_is_refused_before_its_rows_are_read(
    pack: Pack, rows: str, words: str
) -> None:
    with pytest.raises(Refused, match=re.escape(words)):
        table(pack, rows)


def test_a_table_in_which_everything_is_wrong_is_not_read_to_its_end(pack: Pack) -> None:
    with pytest.raises(Refused) as refused:
        table(pack, "tag,kind\n" + "".join(f"{number},hoze\n" for number in range(1_200)))
    assert len(refused.value.faults) == 1_001
    assert "Reading stopped here" in refused.value.faults[-1].read
    [fault, *_] = table(pack, "tag,kind\n" + "a,hose\n" * 9).faults
    assert fault.read == "The tag 'a' stands in the table twice, also in line 3 and 4 and 5 and 5 more."


def test_a_cell_is_one_line_of_text(pack: Pack) -> None:
    found = table(pack, 'tag,kind\n"H-1\n  x: {}",hose\n')
    assert list(found.things) == ["H-1 x: {}"]

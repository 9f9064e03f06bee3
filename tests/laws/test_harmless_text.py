"""Whatever stands in a rig or in the name of a file: no report and no message has anything in it that acts."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import unicodedata
from pathlib import Path

import pytest
from markdown_it import MarkdownIt
from markdown_it.token import Token
from support.every_report import JSON_FORMS, MARKDOWN_FORMS, REPORTS, told_by
from support.installed import as_installed
from support.one_pack import with_one_pack
from support.sampling import sampled

from rigcheck.cli import pack_option
from rigcheck.cli.main import main
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.text.harmless import harmless, visible

_ROOT = Path(__file__).parents[2]

# What somebody could put into a name, and what it would do there.
_ACTS = {
    "an escape of a terminal": "a\x1b[31mb\x1b]0;title\x07",
    "an escape in one letter": "a\x9b31mb",
    "a newline and a command of a log": "a\n::error file=a.yaml::forged",
    "a command of a log at the start": "::error file=a.yaml::forged",
    "a command of a log after the wrapping": "A" * 73 + " ::error file=a.yaml::forged",
    "a command of a log where a long word is broken": "a::" * 60,
    "more colons than a command has": "a :::error file=a.yaml::forged",
    "a command of another log": "x ##[error]forged ##vso[task.complete]y",
    "a turn of direction": "a\u202eb\u2066c\u061cd\u200e",
    "what shows nothing": "a\u200bb\u200dc\u2060d\u00ade\ufefff\u3164g\u115fh\u2800i\ufe0fj",
    "tags": "a\U000e0041\U000e0042\U000e007fb",
    "a line end of another sort": "a\u2028b\u2029c\x85d\re\x0bf\x0cg",
    "a link and a mention": "see www.example.com and https://example.com/a?b or @somebody, GH-123, #12, a@example.com",
    "the name of a commit": "0123456789abcdef0123456789abcdef01234567",
    "markup": "![x](javascript:alert(1)) <img src=x onerror=alert(1)> `a` | b ]]> --> {{0}} \\",
}
_READ = ("a link", "the name", "markup", "a command of", "more colons")

_RIG = """\
rig: {name}
inspected: 2026-11-25
trolley: {{tilt: 30 deg, name: {name}}}
lines:
  - gas: acetylene
    parts: [cylinder: {{name: {name}, retest_until: 2001-01}}, regulator, hose: {{name: {name}, bore: 8 mm}}]
  - gas: oxygen
    parts: [cylinder, regulator, hose]
torch: {{form: cutting, name: {name}}}
hose_pair: {{held_by: cable-tie}}
concessions:
  - {{rule: hoses/twin_hoses_part_freely, reason: {name}, who: {name}, until: 2026-12-31}}
"""
_RECORD = "record: start-up\nrig: {rig}\ndone: 2026-11-25\nby: {name}\nsteps: [look_the_rig_over]\n"
_LOOSENED = """\
local_code: general
limits:
  trolley_tilt:
    values: [{since: 1990-01-02, value: 29 deg, drawn_from: common practice, because: Ownreason}]
"""
_COMMAND = re.compile(r"^\s*::|##\w*\[", re.MULTILINE)


@pytest.fixture(autouse=True)
def _one_pack(pack: Pack, monkeypatch: pytest.MonkeyPatch) -> None:
    with_one_pack(pack, monkeypatch)


def _assert_harmless(text: str, *, lines: str = "\n") -> None:
    assert not _COMMAND.search(text), _COMMAND.search(text)
    plain = text.replace(lines, "\n").replace("\n", "").replace("\N{NO-BREAK SPACE}", "")  # ours, in pages
    wrong = {f"U+{ord(one):04X}" for one in plain if not one.isprintable() or visible(one) != one}
    assert not wrong


def _told(capsys: pytest.CaptureFixture[str], arguments: list[str]) -> tuple[str, str]:
    assert main(arguments) in (0, 1, 2, 3)
    told = capsys.readouterr()
    return told.out, told.err


def _lines(name: str) -> str:
    return "\r\n" if name.endswith(("csv", "icalendar")) else "\n"


def _written(folder: Path, inside: str, called: str = "rig") -> tuple[str, str]:
    """Write a rig and a record in which a text stands wherever one can."""
    rig, record = folder / f"{called}.yaml", folder / "record.yaml"
    rig.write_text(_RIG.format(name=json.dumps(inside, ensure_ascii=False)), encoding="utf-8")
    record.write_text(_RECORD.format(rig="rig.yaml", name=json.dumps(inside, ensure_ascii=False)), encoding="utf-8")
    return str(rig), str(record)


@pytest.mark.parametrize("report", sampled(REPORTS, 12))
def test_no_text_in_a_rig_acts_in_any_report(
    report: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    for name, text in _ACTS.items():
        if not name.startswith(_READ):
            continue  # a rig with such letters is refused: see below
        out, err = _told(capsys, told_by(report, *_written(tmp_path, text), "--day", "2026-11-25"))
        assert out
        _assert_harmless(out, lines=_lines(report))
        _assert_harmless(err)


@pytest.mark.parametrize("name", [name for name in _ACTS if not name.startswith((*_READ, "a newline", "a line end"))])
def test_letters_that_act_are_refused_in_a_rig_or_shown(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, err = _told(capsys, told_by("inspect RIG text", *_written(tmp_path, _ACTS[name])))
    assert re.search(r"The character U\+[0-9A-F]{4,6} (is|does)|\[U\+", " ".join(out.split()))
    _assert_harmless(out + err)


_NAMES = {name: text for name, text in _ACTS.items() if "/" not in text}


@pytest.mark.parametrize("report", sampled(REPORTS, 12))
def test_no_name_of_a_file_acts_in_any_report(
    report: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(tmp_path)
    names = [*_NAMES.values(), os.fsdecode(b"a\xff\xfeb")]
    for text in names[list(REPORTS).index(report) % 3 :: 3]:  # each of them in a third of the reports
        for given in (_RIG.format(name="yard"), _RIG.format(name="yard") + "liens: x\n", "rig: [\n"):
            Path(f"{text}.yaml").write_text(given, encoding="utf-8")
            Path("record.yaml").write_text(_RECORD.format(rig="rig.yaml", name="user"), encoding="utf-8")
            record = "record.yaml"
            if visible(text) == text:
                Path(record).write_text(_RECORD.format(rig=json.dumps(f"{text}.yaml"), name="user"), encoding="utf-8")
            out, err = _told(capsys, told_by(report, f"{text}.yaml", record, "--day", "2026-11-25"))
            _assert_harmless(out, lines=_lines(report))
            _assert_harmless(err)


@pytest.mark.parametrize("text", _ACTS.values(), ids=_ACTS)
def test_no_message_acts(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in (
        ["inspect", text],
        ["inspect", f"--format={text}"],
        ["figures", text],
        ["sheet", text, text],
        ["compare", text, text],
        ["due", text, "--within", text],
        ["summary", text, "--against", text],
        ["rules", "show", text],
        ["rules", "list", "--rules", text],
        ["inspect", "a.yaml", "--concessions", text],
        ["inspect", "a.yaml", "--output", f"{text}/{text}"],
        ["new", text, text],
        ["new", "record", text, text, text],
        [text],
    ):
        try:
            out, err = _told(capsys, arguments)
        except SystemExit:
            told = capsys.readouterr()
            out, err = told.out, told.err
        _assert_harmless(out + err)
        assert out or err


def test_no_text_of_a_folder_of_rules_acts(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for number, text in enumerate(_NAMES.values()):
        folder = tmp_path / f"{number}{text}"
        (folder / "limits").mkdir(parents=True)
        (folder / "limits" / f"{text}.yaml").write_text("local_code: [\n", encoding="utf-8")
        out, err = _told(capsys, ["rules", "list", "--rules", str(folder)])
        assert ("well-formed" in err) if visible(text) == text else ("does not show" in err)
        _assert_harmless(out + err)


def test_no_name_of_a_folder_of_rules_acts_in_any_report(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / f"{_ACTS['a newline and a command of a log']}{os.fsdecode(bytes([255]))}"
    (folder / "limits").mkdir(parents=True)
    (folder / "limits" / "general.yaml").write_text(_LOOSENED, encoding="utf-8")
    laid = load_pack(rules_folder(), folder)
    monkeypatch.setattr(pack_option, "load_pack", lambda *_, **__: laid)
    (tmp_path / "rig.yaml").write_text(_RIG.format(name="yard"), encoding="utf-8")
    (tmp_path / "record.yaml").write_text(_RECORD.format(rig="rig.yaml", name="user"), encoding="utf-8")
    for report in REPORTS:
        files = (str(tmp_path / "rig.yaml"), str(tmp_path / "record.yaml"))
        out, err = _told(capsys, told_by(report, *files, "--rules", str(folder), "--day", "2026-11-25"))
        assert "Ownreason" in out and "itself failed" not in out + err
        _assert_harmless(out + err, lines=_lines(report))


# --- Markdown ---


def _all(tokens: list[Token]) -> list[Token]:
    return [one for token in tokens for one in (token, *_all(token.children or []))]


@pytest.mark.parametrize("report", MARKDOWN_FORMS)
def test_markdown_makes_no_link_no_mention_and_no_markup_of_a_text(
    report: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, text in _ACTS.items():
        if not name.startswith(_READ):
            continue
        out, _ = _told(capsys, told_by(report, *_written(tmp_path, text), "--day", "2026-11-25"))
        tokens = _all(MarkdownIt("gfm-like").parse(out))
        assert not [one for one in tokens if one.type in ("link_open", "image", "html_inline")]
        blocks = [one.content for one in tokens if one.type == "html_block"]
        assert {re.sub(r"<summary>[\w ,.()]*</summary>", "", one).strip() for one in blocks} <= {
            "<!-- rigcheck sheet -->",
            "<details>",
            "</details>",
        }
        spoken = [one.content for one in tokens if one.type == "text"]
        assert not [one for one in spoken if re.search(r"@\w|\bGH-\d|#\d|\b[0-9a-f]{40}\b", one)]


# --- machines ---


@pytest.mark.crowd
@pytest.mark.parametrize("report", sampled([name for name in REPORTS if not name.endswith("text")], 5))
def test_forms_for_programs_are_utf_8_whatever_the_screen_is(report: str, tmp_path: Path) -> None:
    rig, record = _written(tmp_path, "Größe ± 5 µm 火")
    made = []
    for encoding in ("ascii", "cp1252"):
        environment = as_installed(PYTHONIOENCODING=encoding)
        command = [sys.executable, "-m", "rigcheck", *told_by(report, rig, record, "--day", "2026-11-25")]
        made.append(subprocess.run(command, env=environment, capture_output=True, check=False, cwd=tmp_path).stdout)
    assert made[0] == made[1]
    assert "Größe" in made[0].decode("utf-8")


@pytest.mark.parametrize("report", JSON_FORMS)
def test_json_is_json_and_says_what_was_written(
    report: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = _ACTS["a command of another log"]
    out, _ = _told(capsys, told_by(report, *_written(tmp_path, text), "--day", "2026-11-25"))
    assert "forged" in json.dumps(json.loads(out))
    if "sarif" not in report:  # its texts are messages for people
        assert text in json.dumps(json.loads(out))


# --- the one place ---


def test_every_letter_of_unicode_that_shows_nothing_or_steers_is_shown_as_its_number() -> None:
    for number in range(0x110000):
        letter, category = chr(number), unicodedata.category(chr(number))
        many = category in ("Cn", "Co") and number % 37  # of the million that stand for nothing, a share
        if category in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp") and not many:
            assert visible(letter) == f"[U+{number:04X}]"


def test_a_text_that_is_harmless_stays_as_it_is() -> None:
    for text in ("19.5 ± 1 deg", "Größe 8 × 10 m", "火 — “yard”", "a: b # c", "{{0}}"):
        assert harmless(text) == visible(text) == text

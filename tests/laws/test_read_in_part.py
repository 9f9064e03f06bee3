"""One word that cannot be read, wherever it stands, silences no rig: the rest counts, it is told first, and code 2."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from support.one_pack import with_one_pack

from rigcheck.cli.main import main
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.telling import framed
from rigcheck.cli.page.visit import Visit
from rigcheck.rules.pack import Pack

_FILES = {
    "rig.yaml": """\
rig: barn gate
local_code: uk
register: stores.yaml
stands_at: yard.yaml
lines:
  - gas: propane
    parts: [cylinder, regulator, hose: {tag: H-0231, length: 10 m}]
torch: {form: air-aspirated}
""",
    "stores.yaml": """\
register: stores
things:
  H-0231: {hose: {made: 2024-03, bore: 8 mm}}
  H-9: {hose: {bore: 8 mm}}
""",
    "yard.yaml": "site: yard\nrigs: [{file: rig.yaml}]\nshared: {site: {place: open-air}, people: [{role: fitter}]}\n",
    "rig-look.yaml": "look: rig.yaml\nday: 2026-11-25\nby: fitter\nseen:\n  - {thing: H-0231, cover: sound}\n",
    "record.yaml": "record: shut-down\nrig: rig.yaml\ndone: 2026-11-25\nby: fitter\nsteps: [close_cylinder_valve]\n",
    ".rigcheck.yaml": "every: {hose: {oil_free: yes}}\n",
}
_SLIPS = {
    "rig": ("rig.yaml", "length: 10 m", "length: ten"),
    "register, a fact": ("stores.yaml", "bore: 8 mm}}\n  H-9", "bore: ate mm}}\n  H-9"),
    "register, an entry": ("stores.yaml", "H-9: {hose:", "H-9: {hoes:"),
    "site": ("yard.yaml", "place: open-air", "place: opn-air"),
    "look, a fact": ("rig-look.yaml", "cover: sound", "cover: sownd"),
    "look, a row": ("rig-look.yaml", "{thing: H-0231, cover: sound}", "{thing: H-0231, cover: sound}\n  - [no, row]"),
    "look, its top": ("rig-look.yaml", "by: fitter", "bye: fitter"),
    "record": ("record.yaml", "[close_cylinder_valve]", "[close_silinder_valve]"),
    "settings": (".rigcheck.yaml", "every:", "evry:"),
    "settings, a fact": (".rigcheck.yaml", "oil_free: yes", "oil_free: yees"),
}
_COMMANDS = {
    "figures": (),
    "draw": (),
    "sheet": ("leak-test",),
    "file": (),
    "history": (),
    "due": (),
    "ask": ("--paper",),
    "inspect": (),
}


@pytest.fixture(params=_SLIPS, autouse=True)
def slip(request: pytest.FixtureRequest, tmp_path: Path, pack: Pack, monkeypatch: pytest.MonkeyPatch) -> str:
    """A rig with all that may lie beside it, one word of which is misspelt; returns the file in which."""
    with_one_pack(pack, monkeypatch)
    monkeypatch.chdir(tmp_path)
    for key in [one for one in pack.kept if isinstance(one, tuple)]:
        del pack.kept[key]
    file, was, now = _SLIPS[request.param]
    for name, text in _FILES.items():
        assert name != file or was in text
        Path(name).write_text(text.replace(was, now) if name == file else text)
    return file


def _run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = main([*arguments])
    told = capsys.readouterr()
    return code, told.out, told.err


@pytest.mark.parametrize("command", _COMMANDS)
def test_a_command_goes_on_with_what_could_be_read(command: str, slip: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _run(capsys, command, "rig.yaml", *_COMMANDS[command], "--day", "2026-11-25")
    assert code & 2, err
    assert f"{slip}:" in out + err
    assert "No file was read" not in err and len(out) > 100
    if command == "inspect":
        assert "State: not yet shown" in out


def test_a_walk_goes_on_and_writes_what_it_is_told(
    slip: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("x\n1\nq\n"))
    code, out, err = _run(capsys, "ask", "rig.yaml", "--by", "owner", "--day", "2026-11-25")
    assert code == 2 and f"{slip}:" in err and "Stopped" in out
    assert "because: " in Path("rig-look-2026-11-25.yaml").read_text()


def test_the_page_shows_what_could_not_be_read(slip: str, pack: Pack) -> None:
    round_ = Round("rig.yaml", pack, 739580)
    visit = Visit(round_, "fitter")
    visit.read()
    told = framed(visit, round_)["laid"]
    assert isinstance(told, tuple)
    assert any(f"Not read: {slip}:" in one for one in told)

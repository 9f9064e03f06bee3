"""Files of every kind, made up from the vocabulary: values at and past every bound, words right and wrong, and bytes.

What is made depends on the dice alone, so that a number names an input.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of

__all__ = ["KINDS", "ODD", "ODD_DAYS", "TEXTS", "Grammar", "broken", "commands"]

ODD = (
    "0",
    "-1",
    "1e114 bar",
    "99999999999999999999 m",
    "inf",
    "nan",
    "1/0",
    "± 5",
    "5 ± 9",
    "20 to 10 m",
    "none",
    "~",
)
ODD_DAYS = ("2026-11-25", "0001-01", "9999-12-31", "2026-02-30", "1999", "2026-13", "none", "yesterday")
TEXTS = ("a", "Yard 3", "::error::x", "a\u202eb", "x" * 300, "&a", "- b", "@someone", "é 火", "'", "${x}", "1")
_BYTES = (
    b"\0",
    b"\xff\xfe",
    b"\t",
    b"\r",
    b"{",
    b"[",
    b"]",
    b": ",
    b"- ",
    b"|\n",
    b"'",
    b'"',
    b"#",
    b"&a ",
    b"*a",
    b"\n\n",
)
KINDS = ("rig", "record", "look", "register", "site", "concessions", "company folder", "baseline")
"""The kinds of file that are made."""


class Grammar:
    """Makes files for one pack; `dice` decides."""

    def __init__(self, pack: Pack, dice: random.Random) -> None:
        self.pack, self.dice, self.kinds = pack, dice, pack.vocabulary.kinds

    def files(self, kind: str) -> dict[str, bytes]:
        """Return files by name; `rig.yaml` is always there, and what is named by `kind` is odd."""
        made = {"rig.yaml": self._rig()} | _MAKERS[kind](self)
        data = {name: value if isinstance(value, str) else json.dumps(value, indent=1) for name, value in made.items()}
        encoded = {name: text.encode("utf-8", "surrogatepass") for name, text in data.items()}
        if self.dice.random() < 0.3:
            name = self.dice.choice(list(encoded))
            encoded[name] = broken(encoded[name], self.dice)
        return encoded

    # --- values ---

    def value(self, fact: Fact) -> Any:
        """Return a value for a fact: mostly one that could be meant."""
        entry, roll = fact.entry, self.dice.random()
        if fact.words:
            word = self.dice.choice(list(fact.words)) if roll < 0.9 else self.dice.choice((*TEXTS, *ODD))
            return [word] if entry.several_words is not None else word
        if fact.measure == "day":
            return self.dice.choice(ODD_DAYS)
        if fact.measure == "yes_no":
            return self.dice.choice(("yes", "no", "maybe")) if roll < 0.95 else "none"
        if fact.measure == "text":
            return self.dice.choice(TEXTS)
        ends = [one for one in (entry.least, entry.greatest, *entry.likely) if one]
        if roll < 0.75 and ends:
            return self.dice.choice((*ends, f"{ends[0]} to {ends[-1]}", f"{ends[-1]} ± 10 %", f"-{ends[-1]}"))
        return self.dice.choice((*ODD, *(one.replace("1", "9" * 9, 1) for one in ends)))

    def body(self, kind: Kind, depth: int = 0, most: int = 8) -> dict[str, Any]:
        """Return facts of a thing, and sometimes things inside it."""
        stated = [name for name, fact in kind.facts.items() if fact.entry.ask]
        chosen = self.dice.sample(stated, min(len(stated), self.dice.randint(0, most)))
        made = {name: self.value(kind.facts[name]) for name in chosen}
        for key, held in kind.holds.items():
            if key != "lines" and depth < 2 and self.dice.random() < 0.3:
                inner = self.body(self.kinds[held.kind], depth + 1, most)
                made[key] = [inner, inner] if held.many and self.dice.random() < 0.5 else inner
            elif self.dice.random() < 0.02:
                made[key] = "none"
        return made

    def _line(self) -> dict[str, Any]:
        parts = [*self.dice.sample(list(self.pack.vocabulary.parts), self.dice.randint(0, 5))]
        for key in ("cylinder", "regulator", "hose"):
            if self.dice.random() < 0.8:
                parts.append(key)
        run = [
            {key: self.body(self.pack.vocabulary.by_key[key])} for key in parts if key in self.pack.vocabulary.by_key
        ]
        gas = self.dice.choice(("oxygen", "acetylene", "propane", "hydrogen", "argon", "nosuch"))
        return {"gas": gas, **self.body(self.kinds["line"], 2, 3), "parts": run}

    # --- files ---

    def _rig(self) -> dict[str, Any]:
        lines = [self._line() for _ in range(self.dice.randint(1, 3))]
        code = self.dice.choice(("general", "us", "uk", "xx"))
        return {"rig": self.dice.choice(TEXTS), "local_code": code, "lines": lines, **self.body(self.kinds["rig"])}

    def _record(self) -> dict[str, Any]:
        procedure = self.dice.choice(list(procedures_of(self.pack).values()))
        steps = [
            {name: {"at": self.dice.choice(("07:31", "24:01", "x")), "thing": self.dice.choice(TEXTS)}}
            if self.dice.random() < 0.5
            else name
            for name in self.dice.choices(list(procedure.steps), k=self.dice.randint(0, 8))
        ]
        head = {"record": procedure.name, "rig": "rig.yaml", "done": self.dice.choice(ODD_DAYS)}
        return {"record.yaml": {**head, "by": self.dice.choice(TEXTS), "steps": steps}}

    def _look(self) -> dict[str, Any]:
        key = self.dice.choice(list(self.pack.vocabulary.parts))
        body = self.body(self.pack.vocabulary.by_key[key]) if key in self.pack.vocabulary.by_key else {}
        at = self.dice.choice(("lines[0].parts[0]", "lines.0.parts.9", "hose 1", *TEXTS))
        seen = [{"thing": at, **body}, {"every": {key: body}}]
        return {"look.yaml": {"look": "rig.yaml", "day": self.dice.choice(ODD_DAYS), "by": "fitter", "seen": seen}}

    def _register(self) -> dict[str, Any]:
        keys = self.dice.sample(list(self.pack.vocabulary.by_key), 3)
        things = {f"H-{n}": {key: self.body(self.pack.vocabulary.by_key[key])} for n, key in enumerate(keys)}
        return {"register.yaml": {"register": self.dice.choice(TEXTS), "things": things}}

    def _site(self) -> dict[str, Any]:
        shared = {"site": self.body(self.kinds["site"]), "people": [self.body(self.kinds["person"])]}
        store = {"name": "cage", "stands_in": self.dice.choice(("outdoors", "hall", "x")), "gases": ["acetylene"]}
        rigs = [{"file": "rig.yaml", "stands_in": "hall"}]
        site = {"site": "Yard", "shared": shared, "buildings": [{"name": "hall", "volume": self.dice.choice(ODD)}]}
        return {
            "yard.yaml": {**site, "stores": [store], "rigs": rigs},
            "rig.yaml": {"stands_at": "yard.yaml", **self._rig()},
        }

    def _concessions(self) -> dict[str, Any]:
        rules = [*self.dice.sample(list(self.pack.rules), 5), "no/rule"]
        entries = [
            {
                "rig": "*",
                "rule": rule,
                "reason": "r",
                "who": "w",
                "until": self.dice.choice(ODD_DAYS),
                "thing": "hose 1",
            }
            for rule in rules
        ]
        return {"leave.yaml": {"concessions": entries}}

    def _company(self) -> dict[str, Any]:
        """Return a folder of files that ship, each with a few of its words changed."""
        names = sorted(path.relative_to(rules_folder()).as_posix() for path in rules_folder().rglob("*.yaml"))
        made = {}
        for name in self.dice.sample(names, 2):
            words = (rules_folder() / name).read_text(encoding="utf-8").split(" ")
            for _ in range(self.dice.randint(0, 3)):
                words[self.dice.randrange(len(words))] = self.dice.choice((*ODD, *TEXTS, *words[:40]))
            made[f"own/{name}"] = "because: tried\n" + " ".join(words)
        return made

    def _baseline(self) -> dict[str, Any]:
        entry = {"outcome": "judged", "rig": "Yard", "day": "2026-11-25", "findings": [{"rule": "a", "thing": "b"}]}
        head = {
            "form": "rigcheck report 1",
            "pack": "x",
            "entries": [entry, self.dice.choice((entry, {}, None, [], "x"))],
        }
        return {"baseline.json": head}


_MAKERS: Mapping[str, Callable[[Grammar], dict[str, Any]]] = {
    "rig": lambda grammar: {},
    "record": Grammar._record,
    "look": Grammar._look,
    "register": Grammar._register,
    "site": Grammar._site,
    "concessions": Grammar._concessions,
    "company folder": Grammar._company,
    "baseline": Grammar._baseline,
}


def broken(data: bytes, dice: random.Random) -> bytes:
    """Return bytes of which a few are dropped, doubled or put in."""
    for _ in range(dice.randint(1, 6)):
        at, other = dice.randint(0, len(data)), dice.randint(0, len(data))
        put = dice.choice((b"", dice.choice(_BYTES), data[other : other + dice.randint(1, 60)]))
        data = data[:at] + put + data[at + dice.choice((0, 0, 1, 9)) :]
    return data


def commands(kind: str, dice: random.Random) -> Iterator[list[str]]:
    """Yield a few command lines that read what was made."""
    from support.every_report import REPORTS, told_by

    more = {
        "register": ["--register", "register.yaml"],
        "company folder": ["--rules", "own"],
    }.get(kind, [])
    report = dice.choice(list(REPORTS))
    yield [*told_by(report, "rig.yaml", "record.yaml" if kind == "record" else "rig.yaml"), *more]
    yield {
        "record": ["inspect", "record.yaml"],
        "look": ["inspect", "look.yaml"],
        "register": ["inspect", "register.yaml", "rig.yaml"],
        "site": ["inspect", "yard.yaml", "rig.yaml"],
        "concessions": ["inspect", "rig.yaml", "--concessions", "leave.yaml"],
        "company folder": ["rules", "prove", "trolley/", "--rules", "own"],
        "baseline": ["summary", "rig.yaml", "--against", "baseline.json"],
    }.get(kind, ["inspect", "rig.yaml", "--format", dice.choice(("json", "sarif", "junit"))])

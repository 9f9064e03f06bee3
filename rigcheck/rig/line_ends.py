"""Where the lines of a rig end: at its torches, with the hoses that run there side by side."""

from __future__ import annotations

from collections.abc import Iterable

from rigcheck.rig.line_reader import Flow, Outlet
from rigcheck.rig.thing import Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.text.faults import nearest_word, shown_text
from rigcheck.text.yamlfile import Mapping, empty_at

__all__ = ["LineEnds"]


class LineEnds:
    """The ends of the lines that were read, to be joined to the torches of the rig."""

    def __init__(self, reading: Reading, flows: Iterable[Flow]) -> None:
        self.reading, self.flows = reading, tuple(flows)

    def meet(self, root: Thing) -> None:
        """Join the ends of the lines to the torches, and name the parts that rules speak of."""
        torches = root.facts.get("torch") or ()
        self._refuse_same_names(torches)
        for torch in torches:
            torch.facts["lines"] = ()
            torch.facts |= {"line": None, "upstream": None, "downstream": None, "regulator": None}
        for flow in self.flows:
            for outlet in flow.outlets:
                torch = None if outlet.at_the_work else self._torch_of(torches, outlet)
                if outlet.at_the_work and outlet.joint is not None:
                    self.reading.refuse(outlet.joint, "This joint leads to nothing.", "Write the part that follows it.")
                if torch is not None:
                    flow.join(outlet.last, torch, outlet.joint)
                    torch.facts["lines"] = (*torch.facts["lines"], flow.line)
                    self._feed(torch, flow, outlet)
            self._relate(flow)
        for flow in self.flows:
            flow.line.facts["torches"] = tuple(one for one in torches if flow.line in one.facts["lines"])
        for torch in torches:
            torch.facts["inlets"] = tuple(
                joint.facts["upstream"]
                for flow in self.flows
                for joint in flow.joints
                if joint.facts["downstream"] is torch
            )
        self._pairs(root, torches)

    def _refuse_same_names(self, torches: Iterable[Thing]) -> None:
        """Two torches of one name could not be told apart by 'to:'."""
        seen: set[object] = set()
        for torch in torches:
            name = torch.facts.get("name")
            if name is not None and name in seen:
                read = f"A second torch is called {shown_text(str(name))}."
                where = torch.places["name"]
                self.reading.refuse(Mapping(where.line, where.column), read, "Give each torch a name of its own.")
            seen.add(name)

    def _relate(self, flow: Flow) -> None:
        """Name the parts of a line that rules speak of."""
        facts = flow.line.facts
        facts["joints"] = tuple(flow.joints)
        facts["regulator"] = next((p for p in flow.parts if "regulator" in p.kind.lineage), None)
        facts["source"] = flow.parts[0] if flow.parts else None
        facts["torch_end"] = tuple(outlet.last for outlet in flow.outlets if not outlet.at_the_work)
        for part in flow.parts:
            part.facts["regulator"] = _setter(part.facts["upstream"])
            if "regulator" in part.kind.lineage:
                part.facts["feeds"] = ()
            if part.facts["regulator"] is not None:
                part.facts["regulator"].facts["feeds"] += (part,)
        for joint in flow.joints:
            joint.facts["regulator"] = _setter(joint.facts["upstream"])

    def _torch_of(self, torches: Iterable[Thing], outlet: Outlet) -> Thing | None:
        named = [t for t in torches if outlet.to and t.facts.get("name") == outlet.to.text]
        if outlet.to is not None and not named:
            names = [str(t.facts.get("name", "")) for t in torches]
            near = nearest_word(outlet.to.text, names)
            read = f"No torch is called {shown_text(outlet.to.text)}."
            self.reading.refuse(outlet.to, read, "Write the name that stands under 'torch:'.", near)
            return None
        if named:
            return named[0]
        several = tuple(torches)
        if len(several) > 1:
            where = empty_at(outlet.last.line, outlet.last.column, outlet.last.file)
            write = (
                "Write 'to: name of the torch' beside the line's or the branch's parts; "
                "a line that feeds several ends in a header with branches, one of purge gas in 'to: work'."
            )
            self.reading.refuse(where, "With several torches, it is not said which one this leads to.", write)
        if not several and outlet.joint is not None:
            self.reading.refuse(outlet.joint, "This joint leads to nothing.", "Write the torch, under 'torch:'.")
        return several[0] if len(several) == 1 else None

    def _feed(self, torch: Thing, flow: Flow, outlet: Outlet) -> None:
        hose: Thing | None = outlet.last
        while hose is not None and "hose" not in hose.kind.lineage:
            hose = hose.facts["upstream"]
        key = "oxygen_hose" if flow.line.facts.get("gas") == "oxygen" else "fuel_hose"
        if hose is not None:
            torch.facts.setdefault(key, hose)

    def _pairs(self, root: Thing, torches: Iterable[Thing]) -> None:
        paired = [t for t in torches if "oxygen_hose" in t.facts and "fuel_hose" in t.facts]
        written = list(root.facts.get("hose_pair") or ())
        for torch in paired[len(written) :]:
            where = empty_at(torch.line, torch.column, torch.file)
            written.append(self.reading.thing(self.reading.vocabulary.kinds["hose pair"], "hose pair", root, where))
        for pair, torch in zip(written, paired, strict=False):
            pair.facts |= {"torch": torch}
            pair.facts |= {key: torch.facts[key] for key in ("oxygen_hose", "fuel_hose")}
        for number, pair in enumerate(written, start=1):
            pair.number = number if len(written) > 1 else 0
        root.facts["hose_pair"] = tuple(written)


def _setter(upstream: Thing | None) -> Thing | None:
    """Return the regulator that sets the pressure behind a part: itself, or the one before it."""
    if upstream is None or "regulator" in upstream.kind.lineage:
        return upstream
    found: Thing | None = upstream.facts["regulator"]
    return found

"""What a SARIF log meets as its results go by: rules, each numbered when it first occurs, and rigs that look alike."""

from __future__ import annotations

import hashlib
import re
from collections import Counter

from rigcheck.report.sarif.parts import FINGERPRINT

__all__ = ["ResultsMet"]

_RULE = re.compile(r'^\{"ruleId":"([^"]+)",', re.MULTILINE)
_PRINT = re.compile(rf'"{re.escape(FINGERPRINT)}":"([0-9a-f]{{16}})')


class ResultsMet:
    """The rules that occurred so far, in order, and how often a rig of one name in a file of one name did.

    Results come as text, a line each, as `sarif_results` makes them: in a log of many rigs nothing is read twice.
    """

    def __init__(self) -> None:
        self.rules: dict[str, int] = {}
        self._whose: Counter[str] = Counter()

    def told(self, results: str) -> str:
        """Return the results of one rig, each with the number of its rule (3.27.6), no fingerprint met before."""
        numbered = _RULE.sub(lambda found: f'{found[0]}"ruleIndex":{self._number(found[1])},', results)
        first = _PRINT.search(numbered)
        if first is None:
            return numbered
        whose = first[1]
        self._whose[whose] += 1
        if self._whose[whose] == 1:
            return numbered
        other = hashlib.sha256(f"{whose} {self._whose[whose]}".encode()).hexdigest()[:16]
        return numbered.replace(f'"{FINGERPRINT}":"{whose}', f'"{FINGERPRINT}":"{other}')

    def _number(self, rule: str) -> int:
        return self.rules.setdefault(rule, len(self.rules))

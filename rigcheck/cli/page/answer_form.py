"""What was sent from the form of a question: the answer that it is, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from urllib.parse import parse_qs

from msgspec import Struct, field
from starlette.requests import Request

from rigcheck.asking.answers import Answer, checked, ticked
from rigcheck.asking.walk import Page
from rigcheck.cli.page.gate import NotTaken
from rigcheck.quantity.notation import NotRead
from rigcheck.report.html.asked_page import CANNOT_TELL, Blank, Question, questions_of
from rigcheck.rules.looks import Looks

__all__ = ["Form", "answer_of", "form_of"]

_FORM = "application/x-www-form-urlencoded"
_MOST_FIELDS = 2000
Form = Mapping[str, list[str]]
_Key = tuple[str, str]


async def form_of(request: Request) -> Form:
    """Return the fields of a form; what is no text is replaced. Raises `NotTaken`, and `TooLarge` of the gate."""
    body = await request.body()
    sort = request.headers.get("content-type", _FORM).partition(";")[0].strip().lower()
    if body and sort != _FORM:
        raise NotTaken("That is no form of this page. Go back, and send it once more.")
    try:
        return parse_qs(body.decode("utf-8", "replace"), keep_blank_values=True, max_num_fields=_MOST_FIELDS)
    except ValueError:
        raise NotTaken(f"The form has more than {_MOST_FIELDS} fields. Go back, and send it once more.") from None


class _Reading(Struct):
    asked: Page
    form: Form
    looks: Looks
    values: dict[_Key, str | tuple[str, ...]] = field(default_factory=dict)
    not_told: dict[_Key, str] = field(default_factory=dict)
    wrong: dict[str, str] = field(default_factory=dict)

    def sent(self, blank: Blank) -> list[str]:
        """Return what was written or marked in a blank."""
        return [one.strip() for one in self.form.get(blank.name, []) if one.strip()]

    def question(self, question: Question) -> None:
        """Read the answers to a question: one for all of its things, and those that differ."""
        together = question.together
        own = [blank for blank in question.blanks if self.sent(blank)]
        rest = [blank for blank in question.blanks if not self.sent(blank)]
        for blank in own:
            self._blank(question, blank, [blank])
        if together is not None and self.sent(together):
            self._counted(together, len(rest))
            self._blank(question, together, rest)
        elif rest and (together is None or own):
            for blank in rest:
                self.wrong[blank.name] = "Answer this, or mark that you cannot tell."
        elif rest and together is not None:
            self.wrong[together.name] = "Answer this for all of them, or for each by itself."

    def _counted(self, together: Blank, rest: int) -> None:
        if CANNOT_TELL in self.sent(together):
            return
        written = self.form.get(f"{together.name}-count", [""])[0].strip()
        if not written:
            self.wrong[f"{together.name}-count"] = "Write how many of them you looked at."
        elif written != str(rest):
            told = f"{rest} are asked here" if rest else "Each was answered by itself"
            self.wrong[f"{together.name}-count"] = f"{told}. Count once more, or answer each by itself."

    def _is_reason(self, because: str, blank: Blank) -> bool:
        return because in self.looks.cannot_tell and (blank.may_be_absent or because != self.looks.absent)

    def _blank(self, question: Question, blank: Blank, filled: list[Blank]) -> None:
        sent = self.sent(blank)
        keys = [key for one in filled for key in _keys(self.asked, question, one)]
        because = self.form.get(f"{blank.name}-because", [""])[0]
        if CANNOT_TELL in sent and len(sent) > 1:
            self.wrong[blank.name] = "Both an answer and “I cannot tell” are marked. Take one away."
        elif CANNOT_TELL in sent and not self._is_reason(because, blank):
            self.wrong[blank.name] = "Choose why you cannot tell."
        elif CANNOT_TELL in sent:
            self.not_told |= dict.fromkeys(keys, because)
        else:
            try:
                for one in filled:
                    self.values |= _values(self.asked, question, one, sent)
            except NotRead as error:
                self.wrong[blank.name] = f"{error.wrong} {error.write}"


def answer_of(asked: Page, form: Form, looks: Looks) -> tuple[Answer, Mapping[str, str]]:
    """Return the answer that a form is, and what is wrong with it by the name of the field.

    `looks` have the reasons why somebody may not be able to tell.
    """
    reading = _Reading(asked, form, looks)
    for question in questions_of(asked):
        reading.question(question)
    return Answer(reading.values, reading.not_told), reading.wrong


def _keys(asked: Page, question: Question, blank: Blank) -> Iterator[_Key]:
    return ((path, name) for path, name in asked.open if path == blank.path and name == (question.fact or name))


def _values(asked: Page, question: Question, blank: Blank, sent: list[str]) -> Mapping[_Key, str | tuple[str, ...]]:
    if not question.fact:
        if "none" in sent and len(sent) > 1:
            raise NotRead("Both a defect and “none of these” are marked.", "Take one of them away.")
        if not set(sent) <= {word for word, _ in question.words}:
            raise NotRead("That is not on the list.", "Mark what is on it.")
        told = ticked(asked, {blank.path: [int(one) for one in sent if one != "none"]}).values
        return {key: value for key, value in told.items() if key[0] == blank.path}
    thing = next(one for one in asked.things if one.path == blank.path)
    return {(blank.path, question.fact): checked(thing.kind.facts[question.fact], ", ".join(sent))}

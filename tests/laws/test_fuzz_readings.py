"""Every reader takes or refuses small inputs, right ones and wrong ones: with a place, never with another exception."""

from __future__ import annotations

from support.fuzz_readings import readings

from rigcheck.rules.pack import Pack

_MANY = 600


def test_no_small_input_makes_a_reader_raise_anything_but_a_refusal_that_says_where(pack: Pack) -> None:
    read = list(readings(pack, 15, iter(range(_MANY))))
    assert [one for one in read if one.wrong] == []
    assert max(one.seconds for one in read) < 2
    assert len({one.kind for one in read}) == 18

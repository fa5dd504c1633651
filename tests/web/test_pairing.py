"""A code lets one device in, once, for a few minutes."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from firstpull.web.pairing import LASTS, LENGTH, MOST_WRONG, SIGNS, Codes, picture
from firstpull.web.roles import Role

NOON = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)


class Clock:
    """A clock that stands until it is moved."""

    def __init__(self) -> None:
        self.now = NOON

    def __call__(self) -> datetime:
        return self.now


def test_a_code_is_good_once_however_it_is_spaced_or_written() -> None:
    codes = Codes(Clock())
    code = codes.make(Role.COUNTER, "Wren")
    assert codes.use(code.spaced.lower()) == code
    assert codes.use(code.text) is None


def test_a_code_runs_out() -> None:
    clock = Clock()
    codes = Codes(clock)
    code = codes.make(Role.COUNTER, "Wren")
    clock.now = NOON + LASTS - timedelta(seconds=1)
    assert codes.good() == code
    clock.now = NOON + LASTS
    assert codes.good() is None
    assert codes.use(code.text) is None


def test_a_fresh_code_ends_the_one_before() -> None:
    codes = Codes(Clock())
    first, second = codes.make(Role.BENCH, "Wren"), codes.make(Role.OWNER, "Wren")
    assert codes.use(first.text) is None
    assert codes.use(second.text) == second


def test_guessing_ends_the_code_before_it_can_succeed() -> None:
    codes = Codes(Clock())
    code = codes.make(Role.BENCH, "Wren")
    for _ in range(MOST_WRONG):
        assert codes.use("A" * LENGTH) is None
    assert codes.use(code.text) is None


def test_there_are_many_codes_and_no_two_signs_look_alike() -> None:
    assert len(SIGNS) ** LENGTH > 10**11
    assert not set("O0I1LU") & set(SIGNS)
    codes = Codes(Clock())
    assert len({codes.make(Role.BENCH, "Wren").text for _ in range(200)}) == 200


def test_a_code_spent_on_a_bad_name_is_good_again() -> None:
    codes = Codes(Clock())
    code = codes.make(Role.BENCH, "Wren")
    assert codes.use(code.text) == code
    codes.give_back(code)
    assert codes.use(code.text) == code


def test_the_drawing_holds_no_script_and_differs_with_the_address() -> None:
    one, other = (picture(f"http://192.168.7.5:8766/pair?code={c}") for c in ("ABCDEFGH", "ABCDEFGJ"))
    assert one.startswith("<svg")
    assert "script" not in one
    assert one != other

"""Two yeses: one to find it, one to mend it."""

from __future__ import annotations

from typing import Any

from firstpull.workshop.approvals import agreed
from firstpull.workshop.events import Event
from tests.workshop.shop_prices import eur


def word(seq: int, to: str, yes: bool, sum: str | None = None) -> Event:
    body: dict[str, Any] = {"to": to, "yes": yes}
    if sum is not None:
        body["sum"] = {"amount": sum, "currency": "EUR"}
    return Event("J1", seq, f"a{seq}", 0, "approval", 1, "2026-04-11T09:00:00.000Z", "sam", body)


def test_nobody_asked_agrees_to_nothing() -> None:
    assert not agreed([]).allows(eur("0.01"))
    assert (agreed([]).to_find, agreed([]).to_mend) == (False, False)


def test_a_yes_to_find_is_no_yes_to_mend() -> None:
    now = agreed([word(1, "find", True, "36.00")])
    assert (now.to_find, now.to_mend) == (True, False)
    assert now.allows(eur("36.00"))
    assert not now.allows(eur("36.01"))


def test_the_last_word_counts() -> None:
    yes = [word(1, "find", True, "36.00"), word(2, "mend", True, "60.00")]
    assert agreed([*yes, word(3, "mend", True, "100.00")]).limit == eur("100.00")
    assert agreed([*yes, word(3, "mend", False)]).limit == eur("36.00")
    assert agreed([word(1, "find", True, "36.00"), word(2, "find", False)]).limit is None


def test_a_yes_without_a_sum_agrees_to_no_new_money() -> None:
    assert agreed([word(1, "find", True, "36.00"), word(2, "mend", True)]).limit == eur("36.00")
    assert agreed([word(1, "mend", True)]).limit is None


def test_the_instructors_yes_is_not_the_customers() -> None:
    assert agreed([word(1, "instructor", True, "500.00")]).limit is None

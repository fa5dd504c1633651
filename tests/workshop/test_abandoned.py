"""The local notice rule."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from firstpull.base.errors import InputError
from firstpull.base.money import Money
from firstpull.workshop.abandoned import NoticeRule, unfetched
from firstpull.workshop.events import Event
from firstpull.workshop.fold import JobRecord, fold

RULE = NoticeRule.of(
    {"days_after_ready": 30, "notice_days": 60, "how": ["certified post"],
     "storage_per_day": {"amount": "1.50", "currency": "EUR"}}
)  # fmt: skip


def job(*steps: tuple[str, str, dict[str, Any]]) -> JobRecord:
    return fold(
        [
            Event("J1", seq, f"a{seq}", 0, kind, 1, f"{day}T09:00:00.000Z", "sam", body)
            for seq, (kind, day, body) in enumerate(steps, 1)
        ]
    )


READY = ("release", "2026-05-01", {"way": "working"})
CALLED = ("abandoned", "2026-05-03", {"step": "ready", "how": "telephone"})
NOTICE = ("abandoned", "2026-06-10", {"step": "notice", "how": "certified post", "proof": "9c56"})


@pytest.mark.parametrize(
    ("record", "today", "step", "until"),
    [
        (job(), "2026-05-01", "not-ready", ""),
        (job(READY), "2026-05-20", "wait", "2026-05-31"),
        (job(READY, CALLED), "2026-06-01", "wait", "2026-06-02"),
        (job(READY, CALLED), "2026-06-02", "give-notice", "2026-06-02"),
        (
            job(READY, CALLED, ("abandoned", "2026-06-10", {"step": "notice"})),
            "2026-12-01",
            "prove-posting",
            "",
        ),
        (job(READY, CALLED, NOTICE), "2026-08-08", "notice-runs", "2026-08-09"),
        (job(READY, CALLED, NOTICE), "2026-08-09", "may-dispose", "2026-08-09"),
        (
            job(READY, CALLED, NOTICE, ("abandoned", "2026-09-01", {"step": "disposed"})),
            "2026-09-02",
            "disposed",
            "",
        ),
        (job(READY, ("handed-back", "2026-05-04", {})), "2027-01-01", "not-ready", ""),
    ],
)
def test_the_days_are_counted_from_the_word_to_the_customer(
    record: JobRecord, today: str, step: str, until: str
) -> None:
    found = unfetched(record, RULE, date.fromisoformat(today))
    assert (found.step, found.until) == (step, until)


def test_storage_runs_by_the_day() -> None:
    assert unfetched(job(READY), RULE, date(2026, 5, 11)).storage == Money.of("15.00", "EUR")


def test_without_a_written_rule_nothing_may_be_disposed_of() -> None:
    found = unfetched(job(READY, CALLED, NOTICE), None, date(2036, 1, 1))
    assert (found.step, found.must) == ("wait", ("write down the rule of this place first",))


def test_a_machine_that_failed_a_safety_proof_is_never_sold_as_working() -> None:
    failed = ("proof", "2026-05-01", {"proof": "blade-stop", "result": "failed"})
    for record in (
        job(failed, READY, CALLED, NOTICE),
        job(("release", "2026-05-01", {"way": "returned"}), NOTICE),
    ):
        must = unfetched(record, RULE, date(2026, 12, 1)).must
        assert any("never sell it as working" in one for one in must)
    assert not any("never" in one for one in unfetched(job(READY, NOTICE), RULE, date(2026, 12, 1)).must)


@pytest.mark.parametrize(
    "raw", [{}, {"days_after_ready": 30, "notice_days": "soon", "how": ["post"]},
            {"days_after_ready": 30, "notice_days": 10, "how": []},
            {"days_after_ready": -1, "notice_days": 1, "how": ["x"]}],
)  # fmt: skip
def test_a_rule_with_a_hole_is_refused(raw: dict[str, Any]) -> None:
    with pytest.raises(InputError):
        NoticeRule.of(raw)

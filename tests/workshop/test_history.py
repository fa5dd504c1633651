"""The same machine again."""

from __future__ import annotations

from pathlib import Path

from firstpull.workshop.events import Event, from_line
from firstpull.workshop.fold import JobRecord, fold
from firstpull.workshop.history import comeback, history


def first_job() -> JobRecord:
    path = Path(__file__).parent / "events_v1" / "no_spark_walk_mower.jsonl"
    return fold([from_line(line) for line in path.read_text(encoding="utf-8").splitlines()])


def test_next_year_the_machine_brings_its_values_along() -> None:
    (past,) = history([first_job()], "2027-04-11T09:00:00Z")
    assert (past.days_ago, past.way, past.repairs) == (365, "working", ("reroute-stop-lead",))
    assert past.values == (("air-gap", 0.254, "mm"),)


def test_the_last_job_comes_first() -> None:
    older = fold([Event("J0", 1, "a", 0, "opened", 1, "2025-04-11T09:00:00.000Z", "sam", {})])
    assert [past.job for past in history([older, first_job()], "2027-01-01T00:00:00Z")] == ["J101", "J0"]


def test_a_comeback_opens_with_the_old_proofs_and_what_was_not_tested() -> None:
    found = comeback(
        first_job(), ["will-not-start"], "2026-04-25T09:00:00Z", wanted_proofs=["blade-stop", "hot-restart"]
    )
    assert [event.body["proof"] for event in found.proofs] == ["stop-tab-ohms", "blade-stop"]
    assert found.not_tested == ("hot-restart",)
    assert (found.days, found.same_complaint, found.first_look_free) == (14, True, True)


def test_after_the_period_the_first_look_is_work_like_any_other() -> None:
    found = comeback(first_job(), ["hunts"], "2026-12-25T09:00:00Z")
    assert (found.inside_period, found.first_look_free, found.same_complaint) == (False, False, False)
    assert comeback(first_job(), [], "2026-12-25T09:00:00Z", period_days=400).first_look_free


def test_a_proof_that_could_not_be_done_here_counts_as_not_tested() -> None:
    events: list[tuple[str, dict[str, object]]] = [
        ("opened", {"complaint": ["no-output"]}),
        ("proof", {"proof": "half-load", "result": "not-done-here"}),
        ("proof", {"proof": "no-load", "result": "passed"}),
        ("release", {"way": "working", "reduced": ["full-load"]}),
    ]
    at = "2026-04-11T09:00:00.000Z"
    record = fold([Event("J1", n, f"a{n}", 0, kind, 1, at, "sam", body) for n, (kind, body) in enumerate(events, 1)])
    assert comeback(record, ["no-output"], at).not_tested == ("half-load", "full-load")

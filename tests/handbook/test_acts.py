"""A check must be able to give what it says, and nobody is sent into danger unwarned."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from firstpull.handbook.orphans import gaps
from firstpull.handbook.read import load

Refusal = Callable[..., str]
READS = 'reads = "tester_margin"\nscatter'


def test_what_only_a_running_engine_shows_asks_for_a_running_engine(refusal: Refusal) -> None:
    said = refusal((READS, 'reads = "idle_rpm"\nunit = "rpm"\nscatter'))
    assert "'idle_rpm' shows only on a running engine (runs = true)" in said


def test_what_only_a_turning_engine_shows_asks_for_something_that_turns_it(refusal: Refusal) -> None:
    said = refusal(("spins = true\n", ""))
    assert "'tester_margin' shows only while it turns (spins = true)" in said


def test_a_drive_asks_for_a_check_that_spins(refusal: Refusal) -> None:
    said = refusal(("minutes = 2", 'minutes = 2\ndrives = ["drill"]'))
    assert "nothing spins it (spins = true, or no drives)" in said


def test_an_engine_that_turns_or_runs_is_a_hazard(refusal: Refusal) -> None:
    assert "the engine turns and the hazard is 'none'" in refusal(('hazard = "spark"\n', ""))
    assert "the engine runs and the hazard is 'none'" in refusal(("minutes = 2", "minutes = 2\nruns = true"))


def test_an_act_says_how(refusal: Refusal) -> None:
    assert "nothing says how (one to five short lines)" in refusal(('how = ["Follow the lead."]', "how = []"))


def test_a_how_to_stays_short(shelf: Any) -> None:
    book = load(shelf.write(('["Follow the lead."]', '["a", "b", "c", "d", "e", "f"]')))
    assert [(gap.id, gap.right) for gap in gaps(book) if gap.key == ("how",)] == [
        ("look-at-lead", "at most 5 short lines")
    ]

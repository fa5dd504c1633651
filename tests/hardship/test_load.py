"""Several hands at once on a real server with real workers: everything is answered and nothing is lost.

How fast is for `python -m benchmarks.load` to say on a machine that does nothing else; here the machine may be busy.
"""

from __future__ import annotations

import pytest

from benchmarks.load import Figure, run, turns

SESSIONS = 4
SECONDS = 20.0


@pytest.fixture(scope="module")
def figures(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Figure]:
    """What a short run measured, by name."""
    return {f["name"]: f for f in run(SESSIONS, SECONDS, tmp_path_factory.mktemp("load"))}


def test_no_act_that_was_acknowledged_is_missing_from_the_record(figures: dict[str, Figure]) -> None:
    assert figures["acts sent all at once"]["value"] >= SESSIONS
    assert figures["acts lost"]["value"] == 0


def test_a_hand_acts_by_the_clock_whether_or_not_its_answer_has_settled(figures: dict[str, Figure]) -> None:
    assert figures["acts sent by the clock"]["value"] == SESSIONS * turns(SECONDS)
    assert turns(SECONDS) == 2


def test_an_answer_that_did_not_come_in_time_is_counted_with_the_time_it_was_waited_for(
    figures: dict[str, Figure],
) -> None:
    late = figures["settled answers that were not there at the next act"]["value"]
    assert 0 <= late <= figures["acts sent by the clock"]["value"]
    assert figures["first answer, 95 in 100"]["value"] <= figures["settled answer, 95 in 100"]["value"]


def test_no_page_breaks_and_no_act_is_refused(figures: dict[str, Figure]) -> None:
    assert figures["acts refused or broken"]["value"] == 0


def test_when_all_hands_act_at_once_all_are_answered(figures: dict[str, Figure]) -> None:
    assert figures["all at once: acts answered"]["value"] == SESSIONS


def test_server_and_workers_stay_within_their_memory(figures: dict[str, Figure]) -> None:
    assert 0.05 < figures["memory, all processes"]["value"] <= 1.5


def test_a_page_never_waits_for_the_planner(figures: dict[str, Figure]) -> None:
    page, answer = figures["page, median"]["value"], figures["first answer, median"]["value"]
    assert page < answer


def test_a_page_is_small_on_the_line(figures: dict[str, Figure]) -> None:
    assert 1 < figures["find page sent, largest"]["value"] <= 150



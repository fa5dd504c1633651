"""Many jobs over one line protocol: one line in, one line out, and no line can harm the job."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest

from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.bench import stateless
from firstpull.bench.stateless import effort_for, error_dict, play, reason_file
from firstpull.bench.worldroom import WorldRoom

CASES = Path(__file__).resolve().parents[2] / "examples" / "cases"
NEW = json.dumps({"new": {"machine": "walk-mower-ohv", "complaint": ["will-not-start"]}})
HELD = json.dumps({"step": {"access": "control-held", "state": "on"}})
DARK = json.dumps({"step": {"check": "spark-at-tester", "reading": "dark"}})
NONSENSE = [
    "spark", "[]", "7", "null", "{}", '{"step": 3}', '{"new": 3}', '{"step": {}}', '{"new": {}, "step": {}}',
    '{"step": {"check": "spark-at-testr", "reading": "dark"}}', '{"step": {"check": "coil-gap", "reading": "3 psi"}}',
    '{"step": {"check": "leak-down", "reading": {"loss": NaN}}}', '{"new": {"machine": "\\ud800"}}', "[" * 100_000,
    '{"step": {"check": "coil-gap", "reading": 1' + "0" * 5000 + "}}", '{"step": {"access": "cover", "state": null}}',
    '{"new": {"machine": "walk-mower-ohv", "step": [{"check": "coil-gap", "reading": "0.3"}]}}', "\ufffd\x00",
]


def played(room: WorldRoom, lines: list[str]) -> list[dict[str, Any]]:
    out = io.StringIO()
    play(room, io.StringIO("\n".join(lines) + "\n"), out, 1)
    return [json.loads(line, parse_constant=pytest.fail) for line in out.getvalue().splitlines()]


@pytest.fixture(scope="module")
def replies(room: WorldRoom) -> list[dict[str, Any]]:
    """A job, nonsense in the midst of it, the same job without, and a second job after it."""
    return played(room, [DARK, NEW, HELD, *NONSENSE, DARK, "", "  ", NEW, HELD, DARK])


def test_one_line_is_answered_by_one_line_and_empty_ones_by_none(replies: list[dict[str, Any]]) -> None:
    assert len(replies) == 1 + 3 + len(NONSENSE) + 3


def test_a_step_before_any_job_is_refused(replies: list[dict[str, Any]]) -> None:
    assert replies[0]["error"]["what"] == "no job yet"


def test_every_nonsense_is_answered_with_what_is_wrong_and_none_is_a_fault_of_ours(
    replies: list[dict[str, Any]]
) -> None:
    for reply in replies[3 : 3 + len(NONSENSE)]:
        assert list(reply) == ["error"]
        assert reply["error"]["what"]
        assert "fault in the program" not in reply["error"]["what"]


def test_the_job_goes_on_unharmed_as_if_nothing_had_been_said(replies: list[dict[str, Any]]) -> None:
    disturbed, calm = replies[3 + len(NONSENSE)], replies[-1]
    assert disturbed["fault_probability"] == pytest.approx(calm["fault_probability"], abs=1e-9)
    assert disturbed["next"]["id"] == calm["next"]["id"]
    assert disturbed["state"] == calm["state"]


def test_lines_that_are_not_utf_8_are_answered_too(room: WorldRoom) -> None:
    source = io.TextIOWrapper(io.BytesIO(b"\xff\xfe\n" + b'{"step": {}}\n'), encoding="utf-8")
    out = io.StringIO()
    play(room, source, out, 1)
    assert ["error" in json.loads(line) for line in out.getvalue().splitlines()] == [True, True]


def test_a_fault_of_ours_is_said_and_the_next_line_is_read(room: WorldRoom, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> dict[str, Any]:
        raise ZeroDivisionError

    monkeypatch.setattr(stateless, "answer", broken)
    found = played(room, [NEW, DARK])
    assert "fault in the program itself: ZeroDivisionError" in found[0]["error"]["what"]
    assert found[1]["error"]["what"] == "no job yet"


def test_a_line_that_is_far_too_long_is_refused(room: WorldRoom) -> None:
    assert "letters" in played(room, ["x" * (stateless.LONGEST_LINE + 1)])[0]["error"]["what"]


def test_a_case_file_and_the_same_case_line_by_line_give_the_same_answer(room: WorldRoom) -> None:
    whole = reason_file(room, CASES / "dark-with-the-lead-on.toml", 1)
    lines = played(room, [NEW, HELD, DARK])
    assert lines[-1]["fault_probability"] == pytest.approx(whole["fault_probability"], abs=1e-9)
    assert lines[-1]["next"]["id"] == whole["next"]["id"]


def test_an_error_carries_all_its_parts() -> None:
    many = ManyErrors([InputError("a", "here", "this"), FirstpullError("b")])
    found = error_dict(many)
    assert (found["what"], found["where"], found["right"]) == ("a", "here", "this")
    assert [e["what"] for e in found["all"]] == ["a", "b"]
    assert error_dict(FirstpullError("c"))["all"] == [{"what": "c", "where": "", "right": ""}]


def test_said_effort_goes_before_seconds() -> None:
    assert effort_for(None, None) == 2
    assert effort_for(0.01, None) == 1
    assert effort_for(0.01, 4) == 4
    assert effort_for(5.0, None) == 2

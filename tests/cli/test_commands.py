"""What scripts outside rely on, to the letter: cases, plays, lists, problems, and jobs at the command line."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.bench.test_solving import cluster
from tests.cli.running import Command

KEYS = {"suspects", "fault_probability", "repair_probability", "next", "ranked", "cost", "surprise", "state", "stamp"}
NEXT = {"kind", "id", "toward", "with", "access", "minutes", "why", "cautions"}
WHOLE = """
machine = "walk-mower-ohv"
complaint = ["will-not-start"]
told = ["stored-with-fuel"]
[conditions]
altitude_m = 200
air_c = 18
[[step]]
check = "spark-at-tester"
reading = "dark"
[[step]]
access = "stop-lead"
state = "off"
[[step]]
check = "spark-at-tester"
reading = "lights"
with = {drive = "drill"}
while = "failing"
[[step]]
check = "compression-dry"
reading = "62 psi"
with = {thermal = "cold", choke = "open", load = "none", instrument = "compression-gauge", spread = "2 psi", times = 2}
[[step]]
check = "leak-down"
reading = {loss = "85 %", hiss = ["carburettor"]}
[[step]]
check = "camera-look"
reading = "not-done"
[[step]]
check = "knock-listen"
reading = "not-possible"
[[step]]
check = "loose-plug-spark"
reading = "now-and-then"
[[step]]
repair = "renew-plug"
by = "owner"
[[step]]
check = "will-not-start"
reading = "still"
"""


def written(tmp_path: Path, text: str, name: str = "case.toml") -> Path:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


def test_a_case_with_every_feature_is_answered_with_every_key(
    firstpull: Command, tmp_path: Path
) -> None:
    ran = firstpull("reason", written(tmp_path, WHOLE), "--json", "--effort", "1")
    assert (ran.code, ran.err) == (0, "")
    found = ran.json
    assert set(found) >= KEYS
    assert set(found["next"]) >= NEXT
    assert found["next"]["kind"] in ("check", "repair", "access", "ask", "stop")
    assert found["next"]["id"] != "camera-look"
    assert all(r["id"] != "camera-look" for r in found["ranked"])
    assert all(set(s) >= {"faults", "probability"} for s in found["suspects"])
    assert set(found["cost"]) >= {"minutes", "money", "lower_bound", "proven_gap"}
    assert set(found["cost"]["minutes"]) == set(found["cost"]["money"]) == {"expected", "low", "high"}
    assert set(found["surprise"]) >= {"p_value", "odd_one"}
    assert found["fault_probability"]["intake-valve-leaks"] > 5 * found["fault_probability"]["exhaust-valve-burnt"]


def test_the_strategy_is_printed_as_deep_as_asked(firstpull: Command, tmp_path: Path) -> None:
    case = written(tmp_path, 'machine = "walk-mower-ohv"\ncomplaint = ["rope-stays-out"]\n')
    one, two = (firstpull("reason", case, "--json", "--effort", "1", "--tree", str(n)).json["tree"] for n in (1, 2))
    depth = [max(len(line) - len(line.lstrip()) for line in lines) for lines in (one, two)]
    assert depth[0] < depth[1]
    assert any("in 100:" in line for line in one)
    words = firstpull("reason", case, "--effort", "1", "--tree", "1").out
    assert "step by step" in words
    assert one[0] in words
    refused = firstpull("reason", case, "--tree", "9")
    assert refused.code == 2
    assert "9" in refused.err


def test_the_same_case_gives_the_same_answer_and_a_person_gets_words(firstpull: Command, tmp_path: Path) -> None:
    case = written(tmp_path, 'machine = "walk-mower-ohv"\ncomplaint = ["will-not-start"]\n')
    first, second = (firstpull("reason", case, "--json", "--effort", "1") for _ in range(2))
    assert first.json == second.json
    words = firstpull("reason", case, "--seconds", "0.1")
    assert words.code == 0
    assert "Suspects" in words.out
    assert "Next:" in words.out


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('machine = "walk-mower-ohw"', "did you mean 'walk-mower-ohv'?"),
        ('machine = "walk-mower-ohv"\n[[step]]\ncheck = "spark"\nreading = "dark"', "unknown check 'spark'"),
        ('machine = "walk-mower-ohv"\n[[step]]\ncheck = "coil-gap"\nreading = "0.3 psi"', "pressure"),
        ('machine = "walk-mower-ohv"\n[[step]]\ncheck = "coil-gap"\nreading = "0.3"', "say the unit"),
        ('machine = "walk-mower-ohv"\n[[step]]\ncheck = "leak-down-two-stroke"\nreading = "3 %"', "has no check"),
        ("machine = ", "TOML"),
        ("", "unknown machine class"),
    ],
)
def test_a_wrong_case_is_one_clear_error_for_scripts_and_for_people(
    firstpull: Command, tmp_path: Path, text: str, says: str
) -> None:
    case = written(tmp_path, text)
    ran = firstpull("reason", case, "--json")
    assert says in ran.refused()
    error = ran.json["error"]
    assert error["what"]
    assert error["where"]
    assert error["right"]
    people = firstpull("reason", case)
    assert says in people.refused()
    assert people.out == ""


@pytest.mark.parametrize("seconds", ["nan", "inf", "-1", "soon"])
def test_seconds_that_have_no_end_are_refused(firstpull: Command, tmp_path: Path, seconds: str) -> None:
    firstpull("reason", written(tmp_path, 'machine = "tiller"'), "--seconds", seconds).refused()
    firstpull("solve", written(tmp_path, "{}", "p.json"), "--seconds", seconds).refused()


def test_many_jobs_are_played_in_one_process_over_its_own_pipes() -> None:
    lines = ['{"step": {}}', '{"new": {"machine": "walk-mower-ohv", "complaint": ["kicks-back"]}}', "nonsense",
             '{"step": {"check": "spark-at-tester", "reading": "lights"}}', '{"new": {"machine": "walk-mower-sv"}}']
    done = subprocess.run(
        [sys.executable, "-m", "firstpull.cli.main", "reason", "--play", "--effort", "1"], text=True,
        input="\n".join(lines) + "\n", capture_output=True, check=True, timeout=120,
    )
    replies = [json.loads(line, parse_constant=pytest.fail) for line in done.stdout.splitlines()]
    assert ["error" in r for r in replies] == [True, False, True, False, False]
    assert done.stderr == ""
    assert set(replies[1]) >= KEYS
    assert replies[4]["stamp"]["machine"] == "walk-mower-sv"


@pytest.mark.parametrize("kind", ["faults", "checks", "repairs", "access", "complaints", "told", "machines"])
def test_every_list_of_the_handbook_is_one_document(firstpull: Command, kind: str) -> None:
    ran = firstpull("handbook", "list", kind, "--json")
    assert (ran.code, ran.err) == (0, "")
    more = {"checks": {"outcomes", "unit", "arrangement", "instrument"}, "machines": {"traits"}}.get(kind, set())
    assert all({"id", "name", "system", "numbers"} | more <= set(e) for e in ran.json)
    assert len(firstpull("handbook", "list", kind).out.splitlines()) == len(ran.json)


def test_an_unknown_list_is_refused_with_those_there_are(firstpull: Command) -> None:
    assert "faults, checks" in firstpull("handbook", "list", "engines", "--json").refused()


def test_a_chapter_is_checked_and_a_broken_one_keeps_nothing_from_being_said(
    firstpull: Command, tmp_path: Path
) -> None:
    good = written(tmp_path, '[[fault]]\nid = "plug-fouled"\nrate = { "walk-mower-ohv" = 90 }\n', "own.toml")
    ran = firstpull("handbook", "check", good)
    assert ran.code == 0
    assert ran.out.splitlines()[-1].startswith("0 wrong, ")
    bad = written(tmp_path, '[[fault]]\nid = "plug-fouled"\ncolour = "red"\n', "bad.toml")
    ran = firstpull("handbook", "check", bad)
    assert ran.code == 2
    assert ran.out.startswith(f"wrong: {bad}:3")
    assert "1 wrong" in ran.out
    firstpull("handbook", "check", tmp_path / "none.toml").refused()


def test_a_broken_chapter_in_the_data_folder_is_named_by_every_command_that_needs_it(
    firstpull: Command, tmp_path: Path
) -> None:
    (firstpull.data / "chapters").mkdir(parents=True)
    written(firstpull.data / "chapters", "[[fault]]\nid = 3\n", "own.toml")
    assert "own.toml" in firstpull("job", "list").refused()
    case = written(tmp_path, 'machine = "tiller"')
    assert "own.toml" in firstpull("reason", case, "--chapters", firstpull.data / "chapters").refused()


def test_a_problem_is_solved_as_one_document(firstpull: Command, tmp_path: Path) -> None:
    path = written(tmp_path, json.dumps(cluster()), "problem.json")
    ran = firstpull("solve", path, "--json", "--seconds", "2")
    assert ran.code == 0
    assert set(ran.json) == {"first", "expected_cost", "lower_bound", "gap", "proven"}
    assert ran.json["expected_cost"] == pytest.approx(4.85)
    assert ran.json["proven"] is True
    assert "proven" in firstpull("solve", path, "--seconds", "2").out


@pytest.mark.parametrize("content", ["", "{", "[]", '{"schema": "firstpull-planning-problem/1"}', '{"a": NaN}'])
def test_a_file_that_is_no_problem_is_one_clear_error(firstpull: Command, tmp_path: Path, content: str) -> None:
    ran = firstpull("solve", written(tmp_path, content, "problem.json"), "--json")
    ran.refused()
    assert ran.json["error"]["what"]
    assert "error" in firstpull("solve", tmp_path / "none.json", "--json").json


def test_a_problem_is_played_line_by_line(tmp_path: Path) -> None:
    path = written(tmp_path, json.dumps(cluster()), "problem.json")
    lines = '{"new": true}\n?\n{"outcome": 0}\n{"outcome": 1}\n{"new": true}\n'
    done = subprocess.run(
        [sys.executable, "-m", "firstpull.cli.main", "solve", str(path), "--play"], input=lines, text=True,
        capture_output=True, check=True, timeout=60,
    )
    replies = [json.loads(line) for line in done.stdout.splitlines()]
    assert [next(iter(r)) for r in replies] == ["action", "error", "action", "done", "action"]


def taken_in(firstpull: Command, *more: str) -> str:
    ran = firstpull("job", "take-in", "--who", "Ada Fenwright", "--number", "0555 0101", "--complaint", "won't start",
                    "--limit", "80", *more)
    assert ran.code == 0, ran.err
    return ran.out.strip()


def shown(firstpull: Command, number: str) -> Any:
    return firstpull("job", "show", number, "--json").json


def test_a_job_is_taken_in_read_undone_and_listed(firstpull: Command) -> None:
    number = taken_in(firstpull, "--machine", "walk-mower-ohv")
    assert firstpull("job", "on", number, "control-held").code == 0
    ran = firstpull("job", "read", number, "spark-at-tester", "dark", "--while", "failing", "--times", "2")
    assert ran.code == 0
    assert "Next:" in ran.out
    assert "control-held" in shown(firstpull, number)["state"]["added"]
    assert "Withdrawn: spark-at-tester dark" in firstpull("job", "undo", number).out
    assert shown(firstpull, number)["state"]["added"] == ["control-held"]
    assert firstpull("job", "list").out.split()[0] == number


def test_a_table_and_a_number_below_zero_can_be_typed(firstpull: Command) -> None:
    number = taken_in(firstpull, "--machine", "walk-mower-ohv")
    table = '{"loss": "85 %", "hiss": ["carburettor"]}'
    assert firstpull("job", "read", number, "leak-down", table).code == 0
    assert "85" in firstpull("job", "read", number, "leak-down", '{"loss": 85}').refused()
    assert "looks like" in firstpull("job", "read", number, "leak-down", '{"loss": ').refused()
    assert firstpull("job", "read", number, "crankcase-vacuum", "-2 kPa").code == 0


def test_facts_are_kept_while_nobody_knows_the_kind_of_machine(firstpull: Command) -> None:
    number = taken_in(firstpull)
    ran = firstpull("job", "read", number, "spark-at-tester", "dark")
    assert ran.code == 0
    assert "which kind of machine" in ran.out
    assert "kind of machine" in firstpull("job", "show", number).refused()
    ran = firstpull("job", "kind", number, "walk-mower-ohv")
    assert ran.code == 0
    assert "tester-on-lead" in ran.out


def test_every_refusal_at_a_job_leaves_the_job_as_it_was(firstpull: Command) -> None:
    number = taken_in(firstpull, "--machine", "walk-mower-ohv")
    before = shown(firstpull, number)
    for arguments in (
        ["read", number, "spark", "dark"], ["read", number, "coil-gap", "0.3 psi"], ["read", "99", "coil-gap", "1 mm"],
        ["off", number, "wings"], ["repair", number, "magic"], ["tell", number, "nothing"],
        ["value", number, "a", "b", "c"],
        ["read", number, "coil-gap", "0.3 mm", "--with", "drive=horse"], ["undo", number], ["release", number],
        ["hand-back", number, "--to", "Ada"], ["return", number, "--why", " "], ["kind", number, "boat"],
        ["take-in", "--who", "", "--number", "", "--complaint", "", "--limit", "x"], ["proofs", "99"], ["show", "99"],
    ):
        firstpull("job", *arguments).refused()
    after = shown(firstpull, number)
    assert after["fault_probability"] == before["fault_probability"]
    assert after["state"] == before["state"]

"""What a bench hand would never do first: rules over a sample of complaints, by what a step reads and not by its id."""

from __future__ import annotations

from functools import cache

import pytest

from benchmarks.first_steps import first_steps
from firstpull.bench.worldroom import WorldRoom, open_room
from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.entries import Check
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.adviser import Considered
from firstpull.reasoning.prices import Prices

Job = tuple[str, str, tuple[str, ...]]
STORED = ("stored-with-fuel",)
MOWER, TRIMMER, SNOW, GENERATOR = "walk-mower-ohv", "string-trimmer", "snow-blower", "generator-brush-50"
JOBS: tuple[Job, ...] = (
    (MOWER, "will-not-start", ()), (MOWER, "will-not-start", STORED), (MOWER, "hunts-at-idle", STORED),
    (MOWER, "will-not-stop", ()), (MOWER, "rope-stays-out", ()), (TRIMMER, "bogs", ()),
    (TRIMMER, "no-power", ()), (SNOW, "hunts-at-idle", ()), (GENERATOR, "no-electricity", ()),
)
COIL_OHMS = {"primary_meter_ohm", "secondary_meter_ohm"}
LEAK_TESTS = {"carburettor_joint_bubbles", "manifold_bubbles", "leakdown_percent", "crankcase_pressure_hold_kpa",
              "crankcase_vacuum_hold_kpa"}
FUEL = ("fuel", "carburettor")


def named(job: Job) -> str:
    return "/".join((job[0], job[1], *job[2]))


@pytest.fixture(scope="module")
def room() -> WorldRoom:
    return open_room()


@cache
def played(room: WorldRoom, job: Job) -> tuple[Considered, ...]:
    return tuple(taken.step for taken in first_steps(room, *job)[0])


def book_of(room: WorldRoom, job: Job) -> ClassBook:
    return room.worlds(job[0], Conditions()).book


def checks(room: WorldRoom, job: Job) -> list[Check]:
    book = book_of(room, job)
    return [book.checks[step.id] for step in played(room, job) if step.kind == "check"]


def reads(check: Check) -> set[str]:
    return {o.reads or r.reads for r in check.readings for o in r.outcomes}


@pytest.mark.parametrize("job", JOBS, ids=named)
def test_nobody_meters_a_coil_or_a_leak_because_the_tool_lies_there(room: WorldRoom, job: Job) -> None:
    for check in checks(room, job):
        assert not reads(check) & (COIL_OHMS | LEAK_TESTS), check.id


@pytest.mark.parametrize("job", JOBS, ids=named)
def test_the_first_step_is_a_look_and_no_dear_part_is_bought(room: WorldRoom, job: Job) -> None:
    first = played(room, job)[0]
    assert first.kind == "check"
    assert first.minutes <= 5.0
    for step in played(room, job):
        if step.kind == "repair":
            assert sum(p.usual for p in book_of(room, job).repairs[step.id].parts) <= Prices().proof_price


@pytest.mark.parametrize("job", [j for j in JOBS if j[1] == "hunts-at-idle"], ids=named)
def test_fuel_comes_before_the_governor(room: WorldRoom, job: Job) -> None:
    systems = [check.system for check in checks(room, job)]
    assert systems[0] in FUEL
    assert "governor" not in systems[:1]


@pytest.mark.parametrize("job", [j for j in JOBS if j[2] == STORED], ids=named)
def test_after_a_winter_the_fuel_is_smelled_or_seen_first(room: WorldRoom, job: Job) -> None:
    assert checks(room, job)[0].system in FUEL


@pytest.mark.parametrize("job", [j for j in JOBS if j[0] == TRIMMER], ids=named)
def test_a_two_stroke_is_not_tuned_before_it_is_looked_at(room: WorldRoom, job: Job) -> None:
    screws = {"main_screw_turns", "idle_screw_turns"}
    assert all(not reads(check) & screws for check in checks(room, job))
    renewed = [set(book_of(room, job).repairs[s.id].renews) for s in played(room, job) if s.kind == "repair"]
    assert all(not r & screws for r in renewed)


@pytest.mark.parametrize("job", [j for j in JOBS if j[1] == "will-not-start"], ids=named)
def test_nothing_is_asked_of_a_running_engine_that_does_not_start(room: WorldRoom, job: Job) -> None:
    assert all(not check.runs for check in checks(room, job))


def test_a_switch_is_metered_before_it_is_renewed(room: WorldRoom) -> None:
    steps = played(room, (MOWER, "will-not-stop", ()))
    assert [s.kind for s in steps[:2]] == ["check", "check"]


@pytest.mark.parametrize("job", JOBS, ids=named)
def test_what_is_off_stays_off_between_two_checks_that_want_it_off(room: WorldRoom, job: Job) -> None:
    moved: dict[str, list[str]] = {}
    added = {i for i, entry in book_of(room, job).access.items() if entry.added}
    for step in played(room, job):
        for move in step.moves:
            if move.item not in added:
                moved.setdefault(move.item, []).append(move.position)
    assert all(positions in (["off"], ["off", "on"]) for positions in moved.values()), moved


def test_a_job_is_advised_alike_twice(room: WorldRoom) -> None:
    job = JOBS[0]
    again = [taken.step.id for taken in first_steps(room, *job)[0]]
    assert again == [step.id for step in played(room, job)]

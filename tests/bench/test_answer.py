"""The answer that scripts rely on: every key, of the kind it was promised to be."""

from __future__ import annotations

import json
from typing import Any

import pytest

from firstpull.bench.answer import answer
from firstpull.bench.case import read_case
from firstpull.bench.session import Session
from firstpull.bench.stateless import start
from firstpull.bench.worldroom import WorldRoom

CASE: dict[str, Any] = {
    "machine": "walk-mower-ohv", "complaint": ["will-not-start"], "told": ["in-the-rain"],
    "step": [{"access": "control-held", "state": "on"}, {"check": "spark-at-tester", "reading": "dark"},
             {"access": "cover", "state": "on"}, {"check": "coil-gap", "reading": "0.3 mm"}],
}


@pytest.fixture(scope="module")
def job(room: WorldRoom) -> Session:
    """A job with a contradiction in it."""
    return start(room, read_case(CASE, room.book), 2)


@pytest.fixture(scope="module")
def found(job: Session) -> dict[str, Any]:
    """What is said of it."""
    return answer(job)


def test_it_is_json_without_a_number_that_is_none(found: dict[str, Any]) -> None:
    assert json.loads(json.dumps(found, allow_nan=False)) == found


def test_suspects_stand_best_first_and_share_one_whole(found: dict[str, Any]) -> None:
    chances = [s["probability"] for s in found["suspects"]]
    assert chances == sorted(chances, reverse=True)
    assert all(isinstance(s["faults"], list) for s in found["suspects"])
    assert 0.9 < sum(chances) <= 1 + 1e-9


def test_faults_and_repairs_have_probabilities(found: dict[str, Any], room: WorldRoom) -> None:
    for key, shelf in (("fault_probability", room.book.faults), ("repair_probability", room.book.repairs)):
        assert set(found[key]) <= set(shelf)
        assert all(0 <= p <= 1 for p in found[key].values())
    best = found["suspects"][0]
    assert found["fault_probability"][best["faults"][0]] >= best["probability"] - 1e-9


def test_a_repair_cures_at_least_as_often_as_its_likeliest_fault_is_there(
    found: dict[str, Any], room: WorldRoom
) -> None:
    for name, chance in found["repair_probability"].items():
        cures = [found["fault_probability"].get(f, 0.0) for f in room.book.repairs[name].cures]
        assert chance >= max(cures, default=0.0) - 1e-9


def test_the_next_step_says_all_that_a_hand_needs(found: dict[str, Any], room: WorldRoom) -> None:
    step = found["next"]
    assert {"kind", "id", "toward", "with", "access", "minutes", "why", "cautions"} <= set(step)
    assert step["kind"] in ("check", "repair", "access", "ask", "stop")
    assert step["kind"] != "check" or step["id"] in {**room.book.checks, **room.book.complaints}
    assert set(step["toward"]) <= set(room.book.faults)
    assert all(m["state"] in ("off", "on") and m["item"] in room.book.access for m in step["access"])
    assert step["minutes"] > 0
    assert step["why"]
    assert all(c["text"] for c in step["cautions"])


def test_every_step_considered_has_its_cost_and_the_others_say_why_not(found: dict[str, Any]) -> None:
    assert len(found["ranked"]) > 1
    assert all({"kind", "id", "cost"} <= set(r) for r in found["ranked"])
    assert [r["why_not"] for r in found["ranked"]].count("") == 1


def test_the_bound_lies_below_the_cost_and_the_gap_is_their_ratio(found: dict[str, Any]) -> None:
    cost = found["cost"]
    for kind in ("minutes", "money"):
        assert 0 <= cost[kind]["low"] <= cost[kind]["expected"] <= cost[kind]["high"]
    assert 0 < cost["lower_bound"] <= cost["minutes"]["expected"] + 1e-9
    assert cost["proven_gap"] == pytest.approx(cost["minutes"]["expected"] / cost["lower_bound"] - 1)


def test_a_contradiction_between_reading_and_record_becomes_one_question(found: dict[str, Any]) -> None:
    assert found["state"]["questions"] == [
        {"item": "cover", "recorded": "on", "implied": "off", "check": "coil-gap"}
    ]
    assert "cover" in found["state"]["off"]


def test_the_state_says_what_is_off_what_is_added_and_what_forbids_a_start(found: dict[str, Any]) -> None:
    state = found["state"]
    assert {"control-held", "tester-on-lead"} <= set(state["added"])
    assert state["start_forbidden"]["why"]
    assert state["start_forbidden"]["clear_by"]
    assert state["cannot_be_stopped"] is False


def test_the_surprise_is_a_share_and_names_a_check(found: dict[str, Any], room: WorldRoom) -> None:
    assert 0 <= found["surprise"]["p_value"] <= 1
    assert found["surprise"]["odd_one"] in {None, *room.book.checks}


def test_the_stamp_says_what_the_answer_follows_from(found: dict[str, Any], room: WorldRoom) -> None:
    assert found["stamp"]["handbook"] == room.book.hash
    assert {"engine", "rates", "seed", "conditions"} <= set(found["stamp"])


def test_asked_twice_it_says_the_same(job: Session, found: dict[str, Any]) -> None:
    assert answer(job) == found


def test_a_proof_by_a_check_asks_for_what_that_check_needs_and_not_for_all_to_be_put_back(room: WorldRoom) -> None:
    lit = {"check": "spark-at-tester", "reading": "lights", "with": {"drive": "drill"}}
    steps = [*CASE["step"][:2], {"access": "stop-lead", "state": "off"}, lit,
             {"check": "stop-lead-look", "reading": "chafed"}, {"repair": "mend-stop-lead"}]
    job = start(room, read_case(CASE | {"step": steps}, room.book), 2)
    step = answer(job, depth=1)["next"]
    assert (step["kind"], step["id"]) == ("check", room.book.repairs["mend-stop-lead"].proof.check)
    away = job.state.with_moves([(m["item"], m["state"]) for m in step["access"]])
    needs = room.book.checks[step["id"]].needs
    assert all(away.is_at(item, "off") for item in needs.off)
    assert all(away.is_at(item, "on") for item in needs.on)
    assert step["minutes"] < 5

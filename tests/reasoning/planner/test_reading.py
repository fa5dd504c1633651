"""The JSON form: what is read, what is refused, and that nothing crashes it."""

from __future__ import annotations

import contextlib
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.reasoning.planner.problem import Problem
from firstpull.reasoning.planner.reading import parse_problem, problem_from, read_problem
from tests.reasoning.planner.made_up import made_up
from tests.reasoning.planner.worked import shared_cover


def test_every_field_arrives() -> None:
    form = made_up(5, perfect=False)
    problem = problem_from(form)
    assert problem.check_ids == tuple(c["id"] for c in form["checks"])
    assert problem.repair_cost.tolist() == [r["cost"] for r in form["repairs"]]
    assert problem.success.tolist() == [r["success"] for r in form["repairs"]]
    assert set(problem.comeback_cost) == {form["comeback_cost"]}
    assert problem.check_once.tolist() == [c["once"] for c in form["checks"]]
    assert problem.check_outcomes.tolist() == [c["outcomes"] for c in form["checks"]]
    opened = [a["initially"] == "open" for a in form["access"]]
    assert problem.initially == sum(1 << i for i, first in enumerate(opened) if first)
    state = problem.state_ids.index("F1")
    assert problem.proof_pass[state] == form["proof"]["pass"]["F1"]
    assert problem.likelihood[0, :, state][: form["checks"][0]["outcomes"]].tolist() == pytest.approx(
        form["checks"][0]["likelihood"]["F1"]
    )


def test_what_a_repair_leaves_of_a_pair_is_found() -> None:
    form = shared_cover()
    form["states"].append("F4+F1")
    form["hypotheses"][0]["state"] = "F1+F4"
    problem = problem_from(form)
    pair = problem.state_ids.index("F1+F4")
    left = problem.successor[problem.repair_ids.index("R1"), pair]
    assert problem.state_ids[left] == "F4"


def test_a_missing_distribution_of_a_residual_state_is_named() -> None:
    form = made_up(1, pairs=1)
    pair = form["states"][-1]
    rest = pair.split("+")[1]
    del form["checks"][0]["likelihood"][rest]
    with pytest.raises(FirstpullError) as refused:
        problem_from(form)
    assert f"checks[0].likelihood.{rest}" in str(refused.value)


def test_all_problems_are_listed_at_once() -> None:
    form = shared_cover()
    form["access"][0]["open_cost"] = -1
    form["repairs"][2]["need_open"] = ["lid"]
    form["hypotheses"][0]["prior"] = 0.9
    form["proof"] = 7
    with pytest.raises(ManyErrors) as refused:
        problem_from(form)
    assert [e.where for e in refused.value.errors] == [
        "access[0].open_cost",
        "repairs[2].need_open",
        "hypotheses",
        "proof",
    ]


@pytest.mark.parametrize(
    ("path", "value", "where"),
    [
        (("schema",), "other/1", "schema"),
        (("access", 0, "initially"), "ajar", "access[0].initially"),
        (("repairs", 0, "success"), 1.2, "repairs[0].success"),
        (("repairs", 0, "id"), "proof", "checks and repairs"),
        (("repairs", 0, "id"), "R2", "checks and repairs"),
        (("repairs", 0, "cost"), True, "repairs[0].cost"),
        (("repairs", 0, "cost"), 10**400, "repairs[0].cost"),
        (("repairs", 0, "need_closed"), ["cover"], ""),
        (("hypotheses", 0, "state"), "F9", "hypotheses[0].state"),
        (("hypotheses", 0, "prior"), "0.35", "hypotheses[0].prior"),
        (("states",), "F1", "problem.states"),
        (("give_up",), None, "give_up"),
        (("proof", "pass"), {"F1": 2}, "proof.pass.F1"),
        (("comeback_cost",), -1, "problem.comeback_cost"),
    ],
)
def test_one_wrong_value_is_refused_where_it_stands(path: tuple[Any, ...], value: object, where: str) -> None:
    form = shared_cover()
    form["repairs"][0]["need_open"] = ["cover"] if where == "" else []
    place: Any = form
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    with pytest.raises(FirstpullError) as refused:
        problem_from(form)
    errors = refused.value.errors if isinstance(refused.value, ManyErrors) else (refused.value,)
    assert (where or "repairs[0]") in [e.where for e in errors]
    assert all(e.right for e in errors)


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError):
        read_problem(tmp_path / "none.json")


def test_a_file_that_is_no_text_is_refused(tmp_path: Path) -> None:
    (tmp_path / "bad.json").write_bytes(b"\xff\xfe\x00{")
    with pytest.raises(InputError):
        read_problem(tmp_path / "bad.json")


@pytest.mark.parametrize("text", ["", "[" * 100_000, "{", "null", "[]", "1" * 5000, '"a"', '{"schema": NaN}'])
def test_text_that_is_no_problem_is_refused(text: str) -> None:
    with pytest.raises(FirstpullError):
        parse_problem(text)


ANY = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=6),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=8,
)


@given(ANY)
@settings(max_examples=150, deadline=None)
def test_any_value_is_read_or_refused(value: object) -> None:
    with contextlib.suppress(FirstpullError):
        assert isinstance(problem_from(value), Problem)


@given(st.data())
@settings(max_examples=250, deadline=None)
def test_a_good_form_with_any_value_anywhere_is_read_or_refused(data: st.DataObject) -> None:
    form = made_up(2, perfect=False)
    place: Any = form
    for _ in range(data.draw(st.integers(1, 5))):
        keys = list(place) if isinstance(place, dict) else list(range(len(place)))
        if not keys:
            break
        key = data.draw(st.sampled_from(keys))
        if isinstance(place[key], (dict, list)) and data.draw(st.booleans()):
            place = place[key]
            continue
        if data.draw(st.booleans()) and isinstance(place, dict):
            del place[key]
        else:
            place[key] = data.draw(ANY)
        break
    with contextlib.suppress(FirstpullError):
        problem = parse_problem(json.dumps(form))
        assert abs(float(problem.prior.sum()) - 1.0) < 1e-9

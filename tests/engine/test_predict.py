"""The way into the virtual engine."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstpull.base.draws import uniform
from firstpull.base.errors import FirstpullError
from firstpull.engine import vocabulary
from firstpull.engine.predict import needed, predict
from firstpull.engine.vocabulary.types import (
    CHOKES,
    DRIVES,
    LOADS,
    THERMALS,
    Arrangement,
    Choke,
    Conditions,
    Drive,
    Load,
    Setup,
    Thermal,
)
from tests.engine.healthy_mowers import AT_TESTER, HEALTHY, PULLED, RUNNING, FloatArray, shown

_ALL = sorted(vocabulary.OBSERVABLES)
# There is no frequency of hunting where nothing hunts.
_ONLY_WHEN_FAULTY = {"hunting_hz"}


def _ask(params: dict[str, FloatArray], arrangement: Arrangement, which: list[str]) -> dict[str, FloatArray]:
    return predict(params, {}, Conditions(), arrangement, Setup(), which)


def test_observables_come_for_every_machine_in_the_order_asked() -> None:
    made = _ask(HEALTHY, AT_TESTER, ["tester_margin", "air_gap_mm"])
    assert list(made) == ["tester_margin", "air_gap_mm"]
    assert all(values.shape == (len(HEALTHY["air_gap_mm"]),) for values in made.values())


def test_what_needs_turning_is_empty_where_nothing_turns() -> None:
    assert np.isnan(_ask(HEALTHY, replace(AT_TESTER, drive="none"), ["tester_margin"])["tester_margin"]).all()


def test_what_needs_a_running_engine_is_empty_on_those_that_would_not_run() -> None:
    params = {**HEALTHY, "module_alive": (uniform(("alive",), len(HEALTHY["air_gap_mm"])) > 0.5).astype(float)}
    stops = _ask(params, RUNNING, ["stops_on_release"])["stops_on_release"]
    runs = _ask(params, RUNNING, ["would_run"])["would_run"] > 0.5
    np.testing.assert_array_equal(np.isnan(stops), ~runs)
    np.testing.assert_array_equal(runs, params["module_alive"] > 0.5)


def test_unknown_observables_and_uneven_arrays_are_refused() -> None:
    with pytest.raises(FirstpullError, match="unknown observable"):
        _ask(HEALTHY, PULLED, ["tester_marign"])
    with pytest.raises(FirstpullError, match="lengths"):
        _ask({"air_gap_mm": np.ones(2), "plug_gap_mm": np.ones(3)}, PULLED, ["air_gap_mm"])


def test_without_parameters_one_usual_machine_answers() -> None:
    assert _ask({}, AT_TESTER, ["tester_margin"])["tester_margin"].shape == (1,)


def test_machines_do_not_depend_on_their_neighbours_or_order() -> None:
    some = {name: values[[7, 3, 11]] for name, values in HEALTHY.items()}
    for name in ("tester_margin", "start_chance", "stop_tab_ohm"):
        np.testing.assert_allclose(shown(name)[[7, 3, 11]], _ask(some, PULLED, [name])[name], rtol=1e-12)


def test_what_an_observable_needs_is_all_that_it_depends_on() -> None:
    for name, arrangement in (("tester_margin", AT_TESTER), ("stop_tab_ohm", PULLED), ("start_chance", PULLED)):
        wanted, _ = needed({}, arrangement, [name])
        fewer = {key: values for key, values in HEALTHY.items() if key in wanted}
        np.testing.assert_array_equal(_ask(fewer, arrangement, [name])[name], _ask(HEALTHY, arrangement, [name])[name])


def test_the_tester_does_not_ask_about_rings_or_fuel() -> None:
    wanted, tokens = needed({}, AT_TESTER, ["tester_margin"])
    assert {"air_gap_mm", "stop_lead_ohm", "tester_alive"} <= wanted
    assert not {"fuel_age_d", "plug_fouling_ohm", "intake_valve_leak_mm2"} & wanted
    assert {"stop-lead", "control-held"} <= tokens
    assert "bowl" not in tokens
    assert "stop_lead_ohm" not in needed({}, replace(AT_TESTER, off=frozenset({"stop-lead"})), ["tester_margin"])[0]


@pytest.mark.parametrize("name", sorted(set(_ALL) - _ONLY_WHEN_FAULTY))
def test_every_observable_of_a_healthy_mower_is_a_number_where_it_runs_or_turns(name: str) -> None:
    entry = vocabulary.OBSERVABLES[name]
    few = {key: values[:40] for key, values in HEALTHY.items()}
    made = _ask(few, RUNNING if entry.running else PULLED, [name])[name]
    assert made.shape == (40,)
    assert np.isfinite(made).mean() > 0.9


@settings(max_examples=150, deadline=None)
@given(
    seed=st.integers(0, 10**6),
    off=st.sets(st.sampled_from(sorted(t.id for t in vocabulary.TOKENS.values() if not t.added)), max_size=3),
    added=st.sets(st.sampled_from(sorted(t.id for t in vocabulary.TOKENS.values() if t.added)), max_size=3),
    drive=st.sampled_from(DRIVES), thermal=st.sampled_from(THERMALS), choke=st.sampled_from(CHOKES),
    load=st.sampled_from(LOADS), name=st.sampled_from(_ALL),
    altitude=st.floats(0.0, 3500.0), air=st.floats(-25.0, 42.0),
)  # fmt: skip
def test_no_machine_in_no_arrangement_gives_anything_but_numbers(
    seed: int, off: set[str], added: set[str], drive: Drive, thermal: Thermal, choke: Choke, load: Load, name: str,
    altitude: float, air: float,
) -> None:  # fmt: skip
    params = {key: p.low + uniform((seed, key), 6) * (p.high - p.low) for key, p in vocabulary.PARAMETERS.items()}
    arrangement = Arrangement(frozenset(off), frozenset(added), drive, thermal, choke, load)
    made = predict(params, {}, Conditions(altitude, air), arrangement, Setup(), [name])[name]
    assert made.shape == (6,)
    assert not np.isinf(made).any()
    entry = vocabulary.OBSERVABLES[name]
    assert entry.running or entry.turning or entry.roped or not np.isnan(made).any()

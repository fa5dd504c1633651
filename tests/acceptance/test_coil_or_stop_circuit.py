"""The isolation the trade uses: is the coil dead, or is the stop circuit grounding a good coil?

Shares of the outcome are common practice, no source, unless said.
"""

from __future__ import annotations

from firstpull.bench.worldroom import WorldRoom
from tests.acceptance.played import (
    COIL,
    COIL_WITH_EARTH,
    HELD,
    LEAD_OFF,
    STOP_CIRCUIT,
    at_tester,
    of_file,
    session,
    share,
)


def test_dark_with_the_lead_unplugged_is_coil_with_its_earth_and_joints(room: WorldRoom) -> None:
    found = of_file(room, "dark-with-the-lead-off.toml")
    assert share(found["fault_probability"], COIL_WITH_EARTH) >= 0.95


def test_dark_with_strong_magnets_a_good_gap_and_clean_feet_is_the_coil(room: WorldRoom) -> None:
    found = of_file(room, "dark-with-everything-else-good.toml")
    assert share(found["fault_probability"], COIL) >= 0.95


def test_lit_with_the_lead_unplugged_is_the_stop_circuit(room: WorldRoom) -> None:
    found = of_file(room, "lit-with-the-lead-off.toml")
    assert share(found["fault_probability"], STOP_CIRCUIT) >= 0.95
    assert share(found["fault_probability"], COIL) < 0.03


def test_a_kick_back_with_spark_is_the_key_and_hardly_the_coil(room: WorldRoom) -> None:
    found = of_file(room, "kicks-back-with-spark.toml")
    probability = found["fault_probability"]
    assert max(probability, key=lambda f: probability[f]) in ("key-stepped", "key-sheared")
    assert share(probability, COIL) < 0.05


def test_a_sheared_key_leaves_the_spark_where_it_was(room: WorldRoom) -> None:
    lit = session(room, [HELD, at_tester("lights", "rope")]).belief().fault_probability
    before = session(room, []).belief().fault_probability
    assert share(lit, ("key-stepped", "key-sheared")) > share(before, ("key-stepped", "key-sheared"))


def test_dark_without_the_control_held_moves_almost_nothing(room: WorldRoom) -> None:
    before = session(room, []).belief().fault_probability
    after = session(room, [{"access": "control-held", "state": "off"}, at_tester("dark", "rope")]).belief()
    moved = {f: abs(p - before[f]) for f, p in after.fault_probability.items()}
    assert max(moved.values()) < 0.03


def test_dark_with_the_control_held_moves_much(room: WorldRoom) -> None:
    before = session(room, []).belief().fault_probability
    after = session(room, [HELD, at_tester("dark", "rope")]).belief().fault_probability
    assert share(after, (*COIL, *STOP_CIRCUIT)) > share(before, (*COIL, *STOP_CIRCUIT)) + 0.3


def test_the_next_step_after_dark_unplugs_or_meters_the_stop_circuit(room: WorldRoom) -> None:
    job = session(room, [HELD, at_tester("dark", "rope")])
    step = job.advice().next
    assert step.kind == "check"
    assert step.id in (
        "spark-at-tester",
        "stop-lead-ohms-held",
        "stop-switch-ohms",
        "control-travel",
        "stop-lead-look",
        "tester-tried",
    )


def test_the_tester_lights_with_the_lead_on_again_after_the_mend(room: WorldRoom) -> None:
    steps = [
        HELD,
        at_tester("dark", "rope"),
        LEAD_OFF,
        at_tester("lights", "drill"),
        {"check": "stop-lead-ohms-held", "reading": "leaks"},
        {"repair": "mend-stop-lead"},
        {"access": "stop-lead", "state": "on"},
        at_tester("lights", "drill"),
    ]
    belief = session(room, steps).belief()
    assert belief.cause_probability["stop-lead-chafed"] > 0.5
    assert share(belief.fault_probability, STOP_CIRCUIT) < 0.1

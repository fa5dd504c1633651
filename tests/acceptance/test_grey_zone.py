"""The grey zone that physics gives: sparks outside and not inside, dark by rope and lit by the drill.

A leak of tens of ohms on the stop lead costs kilovolts; weak magnets cost the speed at which it fires at all
(docs/physics/ignition.md).
"""

from __future__ import annotations

from firstpull.bench.worldroom import WorldRoom
from firstpull.reasoning.explain import why
from tests.acceptance.played import COIL, HELD, LEAD_OFF, at_tester, of_file, session, share

LEAKING = ("stop-lead-leaks-damp", "stop-lead-chafed", "stop-lead-touches-now-and-then")
SPARKS_OUTSIDE = {"check": "loose-plug-spark", "reading": "sparks"}


def test_sparks_outside_and_dark_at_the_tester_is_a_leak_before_a_dead_coil(room: WorldRoom) -> None:
    probability = of_file(room, "leaking-stop-lead.toml")["fault_probability"]
    assert max(probability, key=lambda f: probability[f]) == "stop-lead-leaks-damp"
    assert probability["coil-dead"] < 0.01


def test_lit_by_the_same_rope_with_the_lead_unplugged_is_the_leaking_lead(room: WorldRoom) -> None:
    steps = [HELD, at_tester("dark", "rope"), SPARKS_OUTSIDE, LEAD_OFF, at_tester("lights", "rope")]
    probability = session(room, steps).belief().fault_probability
    assert share(probability, LEAKING) > 0.5
    assert share(probability, COIL) < 0.05


def test_dark_by_rope_and_lit_by_the_drill_with_the_lead_off_wants_speed_not_a_coil(room: WorldRoom) -> None:
    job = session(room, [HELD, LEAD_OFF, at_tester("dark", "rope"), at_tester("lights", "drill")])
    before = session(room, [HELD, LEAD_OFF, at_tester("dark", "rope"), at_tester("dark", "drill")])
    assert job.belief().fault_probability["coil-dead"] < 0.01
    assert job.belief().fault_probability["magnet-weak"] > 3 * before.belief().fault_probability["magnet-weak"]


def test_with_a_weak_pull_of_the_magnets_it_is_the_magnets_and_the_next_step_says_why(room: WorldRoom) -> None:
    steps = [HELD, LEAD_OFF, at_tester("dark", "rope"), at_tester("lights", "drill"),
             {"check": "magnet-pull", "reading": "weak"}]
    job = session(room, steps)
    probability = job.belief().fault_probability
    assert max(probability, key=lambda f: probability[f]) == "magnet-weak"
    advice = job.advice()
    assert why(job.belief(), advice, advice.next)

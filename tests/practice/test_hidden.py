"""A machine with a fault that only it knows answers as that fault would have it."""

from __future__ import annotations

from dataclasses import replace

from firstpull.engine.vocabulary.types import Arrangement, Conditions
from firstpull.practice.hidden import HiddenMachine
from firstpull.reasoning.acts import ReadingAct
from firstpull.reasoning.worlds import Worlds

ON_THE_TESTER = Arrangement(added=frozenset({"tester-on-lead", "control-held"}), drive="rope")
LEAD_OFF = Arrangement(
    frozenset({"stop-lead", "shroud", "plug"}),
    frozenset({"tester-on-lead", "control-held", "hole-covered", "blade-clear", "drill-on-nut"}),
    "drill",
)


def machine(mower: Worlds, *faults: str, seed: int = 5, blunders: float = 1.0) -> HiddenMachine:
    own = Worlds(mower.book, Conditions(100.0, 18.0), seed=seed, count=1)
    return HiddenMachine(own, frozenset(faults), seed, blunders)


def word(act: ReadingAct) -> str | None:
    return act.reads[0].word


def sparks(mower: Worlds, place: Arrangement, *faults: str) -> int:
    """How many of twelve such machines light the tester."""
    made = (machine(mower, *faults, seed=900 + s) for s in range(12))
    return sum(word(m.read("spark-at-tester", place, 1)) == "lights" for m in made)


def test_a_sound_machine_lights_the_tester_and_a_dead_coil_leaves_it_dark(mower: Worlds) -> None:
    assert sparks(mower, ON_THE_TESTER) >= 10
    assert sparks(mower, ON_THE_TESTER, "coil-dead") <= 1
    assert sparks(mower, LEAD_OFF, "coil-dead") <= 1


def test_a_chafed_stop_lead_is_dark_with_the_lead_on_and_lit_with_it_off(mower: Worlds) -> None:
    assert sparks(mower, LEAD_OFF, "stop-lead-chafed") >= 10
    assert sparks(mower, ON_THE_TESTER, "stop-lead-chafed") < sparks(mower, LEAD_OFF, "stop-lead-chafed")


def test_the_same_seed_is_the_same_machine_and_the_same_hand(mower: Worlds) -> None:
    one, two = machine(mower, "air-gap-wide"), machine(mower, "air-gap-wide")
    place = Arrangement(off=frozenset({"shroud"}))
    for episode in range(4):
        assert one.read("coil-gap", place, episode) == two.read("coil-gap", place, episode)


def test_luck_is_the_same_whatever_was_done_in_between(mower: Worlds) -> None:
    place = Arrangement(off=frozenset({"shroud"}))
    for seed in range(20):
        one, two = machine(mower, "coil-dead", seed=seed), machine(mower, "coil-dead", seed=seed)
        for _ in range(3):
            two.read("coil-gap", place, 1)
        two.repair(mower.book.repairs["mend-stop-lead"])
        assert one.read("spark-at-tester", ON_THE_TESTER, 2) == two.read("spark-at-tester", ON_THE_TESTER, 2)
        for sick in (one, two):
            sick.repair(mower.book.repairs["renew-coil"])
        assert one.sound == two.sound


def test_a_repair_that_takes_makes_it_sound_and_its_owner_stops_complaining(mower: Worlds) -> None:
    sick = machine(mower, "coil-dead")
    before = sick.complains("will-not-start")
    assert sick.still("will-not-start", 1)
    sick.repair(mower.book.repairs["mend-stop-lead"])
    assert not sick.sound
    while not sick.sound:
        sick.repair(mower.book.repairs["renew-coil"])
    assert sick.complains("will-not-start") < 0.3 * before


def test_a_fault_that_comes_and_goes_keeps_to_one_mood_within_an_episode(mower: Worlds) -> None:
    name = next(n for n, f in mower.book.faults.items() if f.duty < 0.9)
    sick = machine(mower, name)
    place = Arrangement()
    moods = [[bool(sick._row(place, episode).faults) for _ in range(3)] for episode in range(40)]
    assert all(len(set(mood)) == 1 for mood in moods)
    assert {mood[0] for mood in moods} == {True, False}


def test_a_fault_that_wants_heat_sleeps_cold(mower: Worlds) -> None:
    dead = mower.book.faults["coil-dead"].model_copy(update={"hot_above_c": 60.0})
    book = replace(mower.book, faults={**mower.book.faults, "coil-dead": dead})
    sick = HiddenMachine(Worlds(book, Conditions(100.0, 18.0), seed=5, count=1), frozenset({"coil-dead"}), 5)
    assert word(sick.read("spark-at-tester", ON_THE_TESTER, 1)) == "lights"
    assert word(sick.read("spark-at-tester", replace(ON_THE_TESTER, thermal="hot"), 2)) == "dark"


def test_a_clumsier_hand_slips_more_often(mower: Worlds) -> None:
    def wrong(blunders: float) -> int:
        made = (machine(mower, seed=2000 + s, blunders=blunders) for s in range(150))
        return sum(word(m.read("stop-lead-look", Arrangement(frozenset({"shroud"})), 1)) != "sound" for m in made)

    assert wrong(30.0) > wrong(1.0)

"""The belief against every history added up, against a Bayesian network, and what must not change it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.reasoning.acts import Act, ComplaintAct, Read, ReadingAct, RepairAct, SilenceAct, ToldAct
from firstpull.reasoning.belief import OTHERS_TAKE, OUTSIDE_ODDS, Fold, fold, fold_each, log_evidence, settled
from firstpull.reasoning.weigh import BENCH_HEARS, BENCH_MISHEARS, SAID_TOO, Scales
from firstpull.reasoning.worlds import Block
from tests.reasoning import three_faults
from tests.reasoning.enumeration import Faults, Happened, Mended, Seen, Told, posterior
from tests.reasoning.handbook import fault, look, measured, said, scales_of
from tests.reasoning.three_faults import FALSE_ALARM, HEARD, PLACES, TAKES, complained, places, states, word

HOT, COLD = Arrangement(thermal="hot"), Arrangement()
SCALES = three_faults.scales()
LOOK_WORDS = ("good", "bad", "now-and-then", "not-possible")
ABOUT = {"misses": "coil", "dies-hot": "boot", "boot-cold": "boot"}


def shares(walk: Fold) -> dict[tuple[Faults, Faults], float]:
    """Probability of what it came in with and what is left, the handbook taken as complete."""
    logs = np.array([t.log_prior + log_evidence(settled(t, walk.duty(t))) for t in walk.threads])
    part = np.exp(logs - logs.max())
    found: dict[tuple[Faults, Faults], float] = {}
    for thread, share in zip(walk.threads, part / part.sum(), strict=True):
        key = (thread.original, thread.current)
        found[key] = found.get(key, 0.0) + float(share)
    return found


def folded(acts: Sequence[Act], scales: Scales = SCALES) -> dict[tuple[Faults, Faults], float]:
    return shares(fold(scales, [(s, math.log(o)) for s, o in states().items()], acts))


def apart(a: dict[Any, float], b: dict[Any, float]) -> float:
    return max(abs(a.get(k, 0.0) - b.get(k, 0.0)) for k in {*a, *b})


def looked(name: str, said_word: str, episode: int, hot: bool = False, mood: str = "unknown") -> tuple[Act, Happened]:
    act = said(f"see-{name}", said_word, episode, arrangement=HOT if hot else COLD, mood=mood)
    return act, Seen(partial(word, name, said_word), episode, hot, mood)


def named(which: Sequence[str], episode: int, hot: bool = False) -> tuple[Act, Happened]:
    act = ReadingAct("see-all", (Read(places=tuple(which)),), HOT if hot else COLD, episode=episode)
    return act, Seen(partial(places, frozenset(which)), episode, hot)


def mended(repair: str, by: Any = "shop") -> tuple[Act, Happened]:
    takes = TAKES[repair] * (1.0 if by == "shop" else OTHERS_TAKE)
    return RepairAct(repair, by), Mended(frozenset({repair.removeprefix("mend-")}), takes)


def told(answer: Any) -> tuple[Act, Happened]:
    return ToldAct("stood", answer), Told(partial(three_faults.told, answer))


def complains(name: str, holds: bool = True) -> tuple[Act, Happened]:
    chance = partial(complained, ABOUT[name], holds, heard=HEARD, false_alarm=FALSE_ALARM)
    return ComplaintAct(name, holds), Seen(chance, 0, name == "dies-hot", sleeps=False)


def tried(name: str, holds: bool, episode: int) -> tuple[Act, Happened]:
    chance = partial(complained, ABOUT[name], holds, heard=BENCH_HEARS, false_alarm=BENCH_MISHEARS)
    return ComplaintAct(name, holds, episode), Seen(chance, episode, name == "dies-hot")


@st.composite
def jobs(draw: st.DrawFn) -> list[tuple[Act, Happened]]:
    """Complaints and told facts, then readings, trials and repairs in episodes that follow each other."""
    done = [complains(c) for c in draw(st.lists(st.sampled_from(sorted(ABOUT)), max_size=2, unique=True))]
    done += [told(a) for a in draw(st.lists(st.sampled_from(["yes", "no", "unknown"]), max_size=1))]
    episode, repairs = 1, 0
    for kind in draw(st.lists(st.sampled_from(["look", "look", "all", "mend", "try"]), max_size=8)):
        episode += draw(st.integers(0, 1))
        hot, which = draw(st.booleans()), draw(st.sampled_from(sorted(PLACES)))
        if kind == "look":
            mood = draw(st.sampled_from(["unknown", "unknown", "failing", "fine"]))
            done.append(looked(which, draw(st.sampled_from(LOOK_WORDS)), episode, hot, mood))
        elif kind == "all":
            done.append(named(draw(st.lists(st.sampled_from(sorted(PLACES)), unique=True, max_size=3)), episode, hot))
        elif kind == "try":
            done.append(tried(draw(st.sampled_from(sorted(ABOUT))), draw(st.booleans()), episode))
        elif repairs < 3:
            repairs += 1
            done.append(mended(draw(st.sampled_from(sorted(TAKES))), draw(st.sampled_from(["shop", "owner"]))))
    return done


@given(jobs())
def test_the_belief_is_what_all_histories_added_up_give(job: list[tuple[Act, Happened]]) -> None:
    expected = posterior(three_faults.nature(), [h for _, h in job])
    assert apart(folded([a for a, _ in job]), expected) < 1e-12


@given(jobs(), st.randoms(use_true_random=False))
def test_readings_of_one_episode_and_told_facts_commute(job: list[tuple[Act, Happened]], deal: Any) -> None:
    acts = [a for a, _ in job]
    groups: list[list[Act]] = []
    for act in acts:
        place = getattr(act, "episode", None) if isinstance(act, ReadingAct) else None
        last = groups[-1][0] if groups else None
        if place is not None and isinstance(last, ReadingAct) and last.episode == place:
            groups[-1].append(act)
        else:
            groups.append([act])
    for group in groups:
        deal.shuffle(group)
    shuffled: list[Act] = [a for group in groups for a in group]
    facts = [a for a in shuffled if isinstance(a, ToldAct)]
    rest: list[Act] = [a for a in shuffled if not isinstance(a, ToldAct)]
    assert apart(folded([*rest, *facts]), folded(acts)) < 1e-12


def test_a_job_in_a_network_library_gives_the_same() -> None:
    gum = pytest.importorskip("pyagrum", reason="the network library is a test-only dependency")
    job = [complains("misses"), told("yes"), looked("coil", "good", 1), looked("rope", "bad", 1), mended("mend-rope"),
           looked("rope", "good", 2), looked("coil", "bad", 3), looked("boot", "bad", 4, hot=True),
           named(["coil"], 5), mended("mend-coil"), tried("misses", False, 6)]
    origins = list(states())
    lefts = sorted({s - c for s in origins for c in map(frozenset, ((), ("rope",), ("coil",), ("rope", "coil")))},
                   key=sorted)
    net = gum.BayesNet("job")
    net.add(gum.LabelizedVariable("H", "as it came in", len(origins)))
    odds = np.array(list(states().values()))
    net.cpt("H")[:] = odds / odds.sum()
    now, left_of, stage, evidence = "H", origins, 0, {}
    for i, (_, h) in enumerate(job):
        if isinstance(h, Mended):
            stage += 1
            name = f"left{stage}"
            net.add(gum.LabelizedVariable(name, "what is left", len(lefts)))
            net.addArc(now, name)
            for k, state in enumerate(left_of):
                row = np.zeros(len(lefts))
                row[lefts.index(state - h.cures)] += h.takes if state & h.cures else 1.0
                row[lefts.index(state)] += 1 - h.takes if state & h.cures else 0.0
                net.cpt(name)[{now: k}] = row
            now, left_of = name, lefts
            continue
        name = f"read{i}"
        net.add(gum.LabelizedVariable(name, "whether this was read", 2))
        net.addArc("H" if isinstance(h, Told) else now, name)
        if isinstance(h, Told):
            for k, state in enumerate(origins):
                net.cpt(name)[{"H": k}] = [1 - h.chance(state), h.chance(state)]
        else:
            coin = f"coin{stage}at{h.episode}" if h.sleeps else f"no coin {i}"
            if coin not in net.names():
                net.add(gum.LabelizedVariable(coin, "asleep or awake", 2))
                net.cpt(coin)[:] = [1 - three_faults.DUTY, three_faults.DUTY] if h.sleeps else [0.0, 1.0]
            net.addArc(coin, name)
            for k, state in enumerate(left_of):
                for awake in (0, 1):
                    acting = frozenset(f for f in state if (f != "coil" or awake) and (h.hot or f != "boot"))
                    net.cpt(name)[{now: k, coin: awake}] = [1 - h.chance(acting), h.chance(acting)]
        evidence[name] = 1
    engine = gum.LazyPropagation(net)
    engine.setEvidence(evidence)
    engine.addJointTarget({"H", now})
    engine.makeInference()
    joint = engine.jointPosterior({"H", now})
    expected = {(s, e): float(joint[{"H": i, now: k}]) for i, s in enumerate(origins) for k, e in enumerate(lefts)}
    assert apart(folded([a for a, _ in job]), expected) < 1e-12


def test_one_coin_serves_a_whole_episode_and_another_the_next() -> None:
    once = [looked("coil", "bad", 1), looked("coil", "good", 1)]
    twice = [looked("coil", "bad", 1), looked("coil", "good", 2)]
    coil = (frozenset({"coil"}), frozenset({"coil"}))
    together, apart_ = folded([a for a, _ in once])[coil], folded([a for a, _ in twice])[coil]
    assert apart_ > 2 * together


def test_a_good_reading_on_a_sleeping_fault_says_little() -> None:
    coil = (frozenset({"coil"}), frozenset({"coil"}))
    asleep = folded([looked("coil", "good", 1, mood="fine")[0]])[coil]
    unknown = folded([looked("coil", "good", 1)[0]])[coil]
    failing = folded([looked("coil", "good", 1, mood="failing")[0]])[coil]
    assert failing < unknown < asleep == pytest.approx(folded([])[coil], rel=1e-9)


def test_a_complaint_gone_after_the_wrong_repair_leaves_the_sleeping_fault_alive() -> None:
    acts = [complains("misses")[0], mended("mend-rope")[0], tried("misses", False, 3)[0]]
    coil = (frozenset({"coil"}), frozenset({"coil"}))
    before = folded(acts[:2])[coil]
    chance = (1 - three_faults.DUTY) * (1 - BENCH_MISHEARS) + three_faults.DUTY * (1 - BENCH_HEARS)
    rest = 1 - BENCH_MISHEARS
    assert folded(acts)[coil] == pytest.approx(before * chance / (before * chance + (1 - before) * rest), rel=1e-6)


def test_silence_about_a_cold_complaint_does_not_speak_against_a_fault_that_shows_only_hot() -> None:
    """A boot that fails hot is not noticed cold: not complaining of the cold boot says nothing about it."""
    boot = (frozenset({"boot"}), frozenset({"boot"}))
    heard = [complains("dies-hot")[0]]
    found = folded([*heard, SilenceAct(("dies-hot",))])
    assert found[boot] / found[frozenset(), frozenset()] == pytest.approx(
        folded(heard)[boot] / folded(heard)[frozenset(), frozenset()], rel=1e-6
    )
    rust = (frozenset({"coil"}), frozenset({"coil"}))
    silent = 1 - SAID_TOO * HEARD * three_faults.event("coil", frozenset({"coil"}))
    assert found[rust] / found[boot] == pytest.approx(silent * folded(heard)[rust] / folded(heard)[boot], rel=1e-5)


def test_what_the_handbook_does_not_know_starts_at_its_share_and_grows_on_readings_that_fit_nothing() -> None:
    rows = [(s, math.log(o)) for s, o in states().items()]
    start = fold(SCALES, rows, [])
    assert start.outside - start.total() == pytest.approx(OUTSIDE_ODDS)
    acts = [looked("rope", w, 1)[0] for w in ("good", "bad", "good", "bad")]
    assert fold(SCALES, rows, acts).outside - fold(SCALES, rows, acts).total() > OUTSIDE_ODDS + 3
    heard = fold(SCALES, rows, [complains("misses")[0], told("yes")[0]])
    assert heard.outside - heard.total() == pytest.approx(OUTSIDE_ODDS)


def test_each_step_keeps_how_probable_it_was_given_all_before() -> None:
    acts = [looked("rope", "bad", 1)[0], looked("coil", "good", 1)[0]]
    rows = [(s, math.log(o)) for s, o in states().items()]
    walk = fold(SCALES, rows, acts)
    assert [s.act for s in walk.steps] == acts
    total = sum(s.log_chance for s in walk.steps)
    assert total == pytest.approx(walk.total() - fold(SCALES, rows, []).total(), abs=1e-12)
    odds = states()
    first = sum(o * word("rope", "bad", s - {"boot"}) for s, o in odds.items()) / sum(odds.values())
    assert walk.steps[0].log_chance == pytest.approx(math.log(first), abs=1e-12)


def test_folding_on_gives_the_same_as_folding_from_the_start() -> None:
    acts = [complains("misses")[0], looked("rope", "bad", 1)[0], mended("mend-rope")[0], looked("coil", "bad", 2)[0]]
    for n in range(len(acts) + 1):
        assert folded(acts[:n]) == folded(acts[:n], three_faults.scales())
    assert folded(acts[:2]) == folded(acts[:2], three_faults.scales())


@given(jobs(), st.data())
def test_states_opened_at_different_times_weigh_as_if_all_were_folded_from_the_start(
    job: list[tuple[Act, Happened]], data: Any
) -> None:
    """Each state is taken up where it was left, also after something was withdrawn; order and numbers stay."""
    acts = [a for a, _ in job]
    every = sorted(((s, math.log(o)) for s, o in three_faults.states().items()), key=lambda one: sorted(one[0]))
    scales = three_faults.scales()
    for _ in range(data.draw(st.integers(0, 3))):
        some = data.draw(st.lists(st.sampled_from(every), min_size=1, unique=True))
        fold_each(scales, some, acts[: data.draw(st.integers(0, len(acts)))])
    found, whole = fold_each(scales, every, acts), fold(three_faults.scales(), every, acts, watched=False)
    assert [(t.original, t.current) for t in found.threads] == [(t.original, t.current) for t in whole.threads]
    assert np.array_equal(found.weights(), whole.weights())


def test_two_blocks_with_nothing_of_their_own_are_both_weighed() -> None:
    """States that nothing read so far tells apart are regenerated alike, each with a block of its own."""
    scales = three_faults.scales()
    rows = [(frozenset({f}), 0.0) for f in ("coil", "boot")]
    blocks = {s: (Block({}), np.zeros(scales.worlds.count)) for s, _ in rows}
    acts: list[Act] = [looked("rope", "bad", 1)[0], SilenceAct(()), complains("boot-cold")[0]]
    own = shares(fold(scales, rows, acts, blocks))
    assert apart(own, shares(fold(scales, rows, acts))) < 1e-12


def test_the_evidence_of_a_thread_is_the_mean_of_its_variants() -> None:
    draw = {"form": "uniform", "low": 0.2, "high": 0.9}
    scales = scales_of([fault("worn", "rope_wear", draw=draw), look("see", "rope_wear", {"good": 0.5, "bad": None})],
                       count=64)
    walk = fold(scales, [(frozenset({"worn"}), 0.0)], [said("see", "bad")])
    weights = np.exp(walk.threads[0].log_weight)
    assert math.exp(log_evidence(walk.threads[0].log_weight)) == pytest.approx(weights.mean(), rel=1e-12)
    assert log_evidence(np.array([-800.0, -800.0])) == pytest.approx(-800.0)


def test_a_number_far_off_leaves_finite_weights() -> None:
    scales = scales_of([look("gap", "air_gap_mm", {"low": 0.3, "high": None},
                             reading={"number": True, "unit": "mm", "false_alarm": 0.0, "scatter": 0.01})])
    walk = fold(scales, [(frozenset(), 0.0)], [measured("gap", 1e6)])
    assert np.isfinite(walk.total())

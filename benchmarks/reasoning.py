"""How long a job waits for its answers, and how fast readings are weighed.

Acts are played on the shipped handbook, process warm; the anchor of reweighting is copying the same weights. The belief
weighs what was read as it is, from predictions in double precision; plans alone rest on coded chances.
"""

from __future__ import annotations

import importlib
import statistics
import tempfile
import time
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.planner.instances import large
from firstpull.bench.answer import answer
from firstpull.bench.case import Step, read_case
from firstpull.bench.session import Session
from firstpull.bench.stateless import start
from firstpull.bench.thinking.memory import undisturbed
from firstpull.bench.worldroom import WorldRoom, open_room
from firstpull.reasoning.acts import ReadingAct
from firstpull.reasoning.believe import believe
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.weigh import Scales
from tests.reasoning import dense_grid

TUNED = 7  # seed of the table
MACHINE = "walk-mower-ohv"
STEPS = (
    Step("access", "control-held", state="on"),
    Step("check", "spark-at-tester", "dark", drive="rope"),
    Step("check", "control-travel", "full"),
    Step("access", "stop-lead", state="off"),
    Step("check", "spark-at-tester", "dark", drive="drill"),
    Step("check", "magnet-pull", "strong"),
    Step("check", "coil-gap", "0.3 mm"),
    Step("repair", "renew-coil"),
)


def row(name: str, value: float, unit: str, better: str, goal: float | None, **anchor: Any) -> dict[str, Any]:
    """One row of the table; the ratio is value over anchor."""
    met = None if goal is None else (value <= goal if better == "lower" else value >= goal)
    held = {"anchor": anchor.get("anchor"), "anchor_value": anchor.get("anchor_value")}
    ratio = value / held["anchor_value"] if held["anchor_value"] else None
    said = {"name": name, "value": value, "unit": unit, "better": better, "goal": goal, "met": met}
    return {**said, **held, "ratio": ratio}


def _case(room: WorldRoom) -> Session:
    raw = {"machine": MACHINE, "complaint": ["will-not-start"], "step": []}
    return start(room, read_case(raw, room.book), 2)


def answers(rounds: int) -> list[dict[str, Any]]:
    """Time from an act to the first answer and to the settled one."""
    with tempfile.TemporaryDirectory() as shelf:
        room = open_room(shelf=Path(shelf))
        began = time.perf_counter()
        answer(_case(room))
        cold = time.perf_counter() - began
        room.keep()
        again = open_room(shelf=Path(shelf))
        began = time.perf_counter()
        _case(again).belief(settle=False)
        kept = time.perf_counter() - began
    first: list[float] = []
    settled: list[float] = []
    for _ in range(rounds):
        job = _case(room)
        job.advice()
        for step in STEPS:
            job.take(step)
            with undisturbed():  # as the workers do it
                began = time.perf_counter()
                job.advice(depth=1, settle=False)
                first.append(time.perf_counter() - began)
                job.advice()
                settled.append(time.perf_counter() - began)
    ninety_five = int(0.95 * len(first))
    return [
        row("cold start of a class", cold, "s", "lower", 5.0),
        row("start of a class from the shelf, to its first belief", kept, "s", "lower", 0.3),
        row("first answer with advice, 95 in 100", sorted(first)[ninety_five], "s", "lower", 0.15),
        row("settled answer with advice, 95 in 100", sorted(settled)[ninety_five], "s", "lower", 1.5),
        row("settled answer with advice, median", statistics.median(settled), "s", "lower", None),
    ]


def reweighting(rounds: int) -> list[dict[str, Any]]:
    """One reading on every state: as the belief weighs it, and as a bare look-up of coded likelihoods would."""
    job = _case(open_room())
    for step in STEPS[:6]:
        job.take(step)
    walk = job.belief(settle=False).walk.copy()
    walk.watched = False
    walk.foresee(job.belief(settle=False).acts)
    said = [act for act in job.belief(settle=False).acts if isinstance(act, ReadingAct)]
    variants = len(walk.threads) * walk.scales.worlds.count
    times = []
    for number in range(rounds):
        there = walk.copy()
        walk.scales._known.clear()
        began = time.perf_counter()
        there.act(said[number % len(said)])
        there.weights()
        times.append(time.perf_counter() - began)
    belief_ms = statistics.median(times) * 1e3 * 300_000 / variants
    took, copy = _looked_up(300_000, rounds)
    return [
        row("reweight as the belief does, a 300,000 variants", belief_ms, "ms", "lower", 0.3,
            anchor="copy as many weights", anchor_value=copy),
        row("reweight 300,000 by a bare look-up (not used)", took, "ms", "lower", None,
            anchor="copy as many weights", anchor_value=copy),
    ]


def _looked_up(count: int, rounds: int) -> tuple[float, float]:
    """Times weights by likelihoods from a table of 4,096 codes, and copies them: medians in ms."""
    generator = np.random.default_rng(3)
    codes = generator.integers(0, 4096, count).astype(np.uint16)
    chance = generator.random(4096).astype(np.float32)
    weights, found = np.ones(count, np.float32), np.empty(count, np.float32)
    copied = np.empty_like(weights)
    times, copies = [], []
    for _ in range(rounds):
        began = time.perf_counter()
        np.take(chance, codes, out=found, mode="clip")
        np.multiply(weights, found, out=weights)
        weights.reshape(150, -1).sum(axis=1)
        times.append(time.perf_counter() - began)
        began = time.perf_counter()
        np.copyto(copied, weights)
        copies.append(time.perf_counter() - began)
    return statistics.median(times) * 1e3, statistics.median(copies) * 1e3


def marginals(rounds: int) -> list[dict[str, Any]]:
    """Twelve readings on the table of a large problem, as the planner folds them, against a network library."""
    try:
        gum = importlib.import_module("pyagrum")
    except ImportError:
        return []
    problem = large(TUNED)
    model, states = Model(problem), len(problem.prior)
    net = gum.BayesNet("table")
    net.add(gum.LabelizedVariable("H", "what is wrong", states))
    net.cpt("H")[:] = problem.prior / problem.prior.sum()
    for c in range(model.checks):
        net.add(gum.LabelizedVariable(f"c{c}", "a check", int(problem.check_outcomes[c])))
        net.addArc("H", f"c{c}")
        net.cpt(f"c{c}")[:] = np.ascontiguousarray(problem.likelihood[c, : int(problem.check_outcomes[c])].T)
    engine = gum.LazyPropagation(net)
    engine.addTarget("H")
    deal = np.random.default_rng(7)
    ours: list[float] = []
    theirs: list[float] = []
    apart = 0.0
    for _ in range(rounds):
        said = {int(c): int(deal.integers(problem.check_outcomes[c])) for c in deal.permutation(model.checks)[:12]}
        began = time.perf_counter()
        belief = problem.prior
        for check, outcome in said.items():
            belief = model.after(belief, check, outcome)[1]
        ours.append(time.perf_counter() - began)
        began = time.perf_counter()
        engine.setEvidence({f"c{c}": o for c, o in said.items()})
        engine.makeInference()
        known = np.array(engine.posterior("H").tolist())
        theirs.append(time.perf_counter() - began)
        apart = max(apart, float(np.abs(known - belief).max()))
    return [
        row("12 readings on a table of 150 states", statistics.median(ours) * 1e3, "ms", "lower", None,
            anchor="pyagrum, same marginals", anchor_value=statistics.median(theirs) * 1e3),
        row("the same, largest difference", apart, "1", "lower", 1e-12),
    ]


def memory() -> list[dict[str, Any]]:
    """Memory of everything predicted for one class after a whole job."""
    room = open_room()
    job = _case(room)
    for step in STEPS:
        job.take(step)
        job.advice()
    held = [v for rows in job.scales.worlds.predicted.values() for v in rows.values()]
    scales: Scales = job.scales
    heard = [v for shelf in scales.worlds.heard.values() for v in shelf.values()]
    total = sum(v.nbytes for v in [*held, *heard, *(v for known in scales._known.values() for v in known.values())])
    return [row("memory of one class's predictions", total / 1e6, "MB", "lower", 400.0)]


def exactness(jobs: int) -> list[dict[str, Any]]:
    """Total variation between the settled belief and a dense grid, on a made-up handbook whose grid is small enough."""
    found = []
    for seed in range(jobs):
        for readings in (2, 4, 8, 12):
            acts = dense_grid.job(seed, readings)[1]
            belief = believe(dense_grid.scales(256), acts)
            exact = np.array([t.log_prior for t in belief.threads])
            exact += dense_grid.log_evidence([t.original for t in belief.threads], acts)
            exact = np.exp(exact - exact.max())
            found.append(0.5 * np.abs(belief.probability / belief.probability.sum() - exact / exact.sum()).sum())
    return [
        row("settled belief against a dense grid, mean", float(np.mean(found)), "variation", "lower", 0.01),
        row("settled belief against a dense grid, 90 in 100", float(np.quantile(found, 0.9)), "variation", "lower",
            0.025),
    ]


def rows(quick: bool) -> list[dict[str, Any]]:
    """All rows of this file."""
    return [*answers(1 if quick else 5), *reweighting(50 if quick else 400),
            *marginals(50 if quick else 400), *memory(),
            *exactness(6 if quick else 60)]

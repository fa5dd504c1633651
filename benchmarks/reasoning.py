"""How long a job waits for its answers, and how fast readings are weighed.

Acts are played on the shipped handbook, process warm; the anchor of reweighting is copying the same weights.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from pathlib import Path
from typing import Any

import numpy as np

from firstpull.bench.answer import answer
from firstpull.bench.case import Step, read_case
from firstpull.bench.session import Session
from firstpull.bench.stateless import start
from firstpull.bench.thinking.memory import undisturbed
from firstpull.bench.worldroom import WorldRoom, open_room
from firstpull.reasoning.believe import believe
from firstpull.reasoning.weigh import Scales
from tests.reasoning import dense_grid

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
    """Weights of 300,000 variants times the likelihood of one reading, by look-up, against copying them."""
    count = 300_000
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
    took, copy = statistics.median(times) * 1e3, statistics.median(copies) * 1e3
    name = "reweight 300,000 coded variants"
    return [row(name, took, "ms", "lower", 0.3, anchor="copy the weights", anchor_value=copy)]


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
    return [*answers(1 if quick else 5), *reweighting(50 if quick else 400), *memory(),
            *exactness(6 if quick else 60)]

"""The large comparison, kept: three problems of 100 faults, 4,000 jobs for each way of choosing, solved states bound.

`python -m benchmarks.planner.compare [--jobs N] [--seconds S]` writes compare.json beside this file. Jobs are drawn
with the same seed for every rival; thresholds of rivals are tuned on the problem itself, which favours them. The
excess is what a job costs beyond the clairvoyant cost, the only part that choosing well can change.
"""

from __future__ import annotations

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")

import argparse
import json
import time
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.planner import rivals
from benchmarks.planner.instances import large, small
from benchmarks.planner.run import FIRST_SEED, violations
from firstpull import __version__
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Floats
from firstpull.reasoning.planner.search import Search
from firstpull.reasoning.planner.simulation import Policy, Trial, simulate

KEPT = Path(__file__).with_name("compare.json")
TUNING_JOBS = 300
STATES = 50_000


def best(model: Model, rival: rivals.Tuned) -> Policy:
    """A rival with the threshold that does best on jobs of its own."""
    tried = [(played(model, rival(model, t), TUNING_JOBS, 1).mean, t) for t in rivals.THRESHOLDS]
    return rival(model, min(tried)[1])


def played(model: Model, policy: Policy, jobs: int, seed: int = FIRST_SEED) -> Trial:
    """Simulated jobs."""
    trial = simulate(model, policy, jobs=jobs, seed=seed)
    assert trial is not None
    return trial


def problem(seed: int, jobs: int, seconds: float) -> dict[str, Any]:
    """All ways of choosing on one large problem."""
    model = Model(large(seed))
    decider, times = Decider(model), list[float]()

    def ahead(belief: Floats, access: int, used: int) -> int:
        start = time.thread_time()
        action = decider.ahead.choose(belief, access, used)
        times.append(time.thread_time() - start)
        return action

    root = decider.search.node(model.problem.prior, model.problem.initially, 0)
    decider.search.run(root, seconds)
    known = float(model.at(model.problem.initially).known @ model.problem.prior)
    trials = {
        "ours": played(model, ahead, jobs),
        "information gain, tuned": played(model, best(model, rivals.information_gain), jobs),
        "fixed chart, tuned": played(model, best(model, rivals.fixed_chart), jobs),
        "chance over price": played(model, rivals.chance_over_price(model), max(jobs // 10, 100)),
    }
    ours, gain, chart = (trials[k] for k in ("ours", "information gain, tuned", "fixed chart, tuned"))
    return {
        "seed": seed,
        "cost": {k: [round(t.mean, 3), round(t.error, 3), t.jobs] for k, t in trials.items()},
        "clairvoyant": round(known, 3),
        "proven bound": round(root.low, 3),
        "over gain": ratio(ours, gain),
        "over chart": ratio(ours, chart),
        "over bound": [round(ours.mean / root.low, 4), round(ours.error / root.low, 4)],
        "excess over the chart's": ratio(ours, chart, known),
        "excess over gain's": ratio(ours, gain, known),
        "decision, processor ms, median and p99": [round(1e3 * float(np.quantile(times, q)), 2) for q in (0.5, 0.99)],
    }


def ratio(one: Trial, other: Trial, less: float = 0.0) -> list[float]:
    """Ratio of two means and its standard error."""
    a, b = one.mean - less, other.mean - less
    return [round(a / b, 4), round(a / b * float(np.hypot(one.error / a, other.error / b)), 4)]


def bounded(states: int) -> dict[str, int]:
    """States of solved small problems in which the bound lies above the cost of a known policy."""
    wrong = looked = problems = 0
    while looked < states:
        model = Model(small(FIRST_SEED + problems))
        search = Search(model)
        search.run(search.node(model.problem.prior, model.problem.initially, 0), 10.0)
        above, here = violations(search)
        wrong, looked, problems = wrong + above, looked + here, problems + 1
    return {"violations": wrong, "states": looked, "problems": problems}


def main() -> None:
    """Compare and keep."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--jobs", type=int, default=4000)
    parser.add_argument("--seconds", type=float, default=60.0)
    asked = parser.parse_args()
    told: dict[str, Any] = {
        "command": f"python -m benchmarks.planner.compare --jobs {asked.jobs} --seconds {asked.seconds:g}",
        "stamp": f"firstpull {__version__}, numpy {np.__version__}",
        "each": "value, standard error",
        "bound": bounded(STATES),
        "problems": [],
    }
    for seed in range(FIRST_SEED, FIRST_SEED + 3):
        told["problems"].append(problem(seed, asked.jobs, asked.seconds))
        KEPT.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")
    print(json.dumps(told, indent=1))


if __name__ == "__main__":
    main()

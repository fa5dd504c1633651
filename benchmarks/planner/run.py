"""How good and how fast the planner is, against proven optima, proven bounds and the ways the books teach.

`python -m benchmarks.planner.run [quick]` prints the rows. Small problems: seeds from 10,000, every cost exact. Large
problems (100 faults, 50 pairs, 80 checks, 12 access items): simulated jobs, the same jobs for every rival, standard
errors shown. Thresholds of rivals are tuned on each problem itself, which favours them.
"""

from __future__ import annotations

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.planner import rivals
from benchmarks.planner.exact import policy_cost
from benchmarks.planner.instances import large, small
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Floats
from firstpull.reasoning.planner.reading import problem_from
from firstpull.reasoning.planner.search import Node, Search
from firstpull.reasoning.planner.simulation import Policy, simulate
from tests.outside import networks

Row = dict[str, Any]
FIRST_SEED = 10_000
NETWORK_ROUNDS = 120  # as ROUNDS, for problems of a dozen causes: about 50 ms where most is open
ROUNDS = 24  # search rounds of a default decision, about 10 ms; the same effort on every machine


def row(name: str, value: float, unit: str, better: str, goal: float | None, anchor: str, anchor_value: float) -> Row:
    """One line of the table; met is None where there is no goal."""
    met = None if goal is None else bool(value <= goal if better == "lower" else value >= goal)
    ratio = value / anchor_value if anchor_value else None
    found: Row = {"name": f"planner: {name}", "value": value, "unit": unit, "better": better, "goal": goal}
    return {**found, "met": met, "anchor": anchor, "anchor_value": anchor_value, "ratio": ratio}


def fresh(decider: Decider, rounds: int, times: list[float]) -> Policy:
    """The default decision with nothing remembered from earlier ones, timed."""

    def choose(belief: Floats, access: int, used: int) -> int:
        start = time.perf_counter()
        decider.search.forget()
        action = decider.decide(belief, access, used, 10.0, rounds).action
        times.append(time.perf_counter() - start)
        return action

    return choose


def small_problems(quick: bool) -> list[Row]:
    """Plan cost over proven optimum, and how many optima are proven in 10 s."""
    count = 10 if quick else 48
    ratios: dict[str, list[float]] = {}
    times: list[float] = []
    seconds, proven, above, states = [], 0, 0, 0
    for seed in range(FIRST_SEED, FIRST_SEED + count):
        problem = small(seed)
        model = Model(problem)
        search = Search(model)
        start = time.perf_counter()
        root = search.node(problem.prior, problem.initially, 0)
        search.run(root, 10.0)
        seconds.append(time.perf_counter() - start)
        proven += root.gap <= 1e-6 * root.low
        wrong, looked = violations(search)
        above, states = above + wrong, states + looked
        tried: dict[str, float] = {
            "chance over price": policy_cost(model, rivals.chance_over_price(model)),
            "fixed chart, tuned": tuned(model, rivals.fixed_chart),
            "information gain, tuned": tuned(model, rivals.information_gain),
            "myopic repair-aware": policy_cost(model, rivals.myopic_repair_aware(model)),
            "look-ahead of two": policy_cost(model, Decider(model).ahead.choose),
            "default decision": policy_cost(model, fresh(Decider(model), ROUNDS, times)),
            "known state": float(model.at(problem.initially).known @ problem.prior),
        }
        for name, cost in tried.items():
            ratios.setdefault(name, []).append(cost / root.high)
    mean = {name: float(np.mean(values)) for name, values in ratios.items()}
    best = "proven optimum"
    gain = mean["information gain, tuned"]
    found = [
        row("small, default decision, mean cost", mean["default decision"], "of optimum", "lower", 1.005, best, 1.0),
        row("small, default decision, worst", max(ratios["default decision"]), "of optimum", "lower", 1.05, best, 1.0),
        row("small, proven within 10 s", 100.0 * proven / count, "%", "higher", 95.0, "all", 100.0),
        row("small, median time to proof", 1e3 * float(np.median(seconds)), "ms", "lower", None, "allowed", 1e4),
        row("small, time of a default decision, p99", _ms(times, 0.99), "ms", "lower", 20.0, "goal", 20.0),
        row("bound above optimum", float(above), "of states", "lower", 0.0, "states looked at", float(states)),
        row("small, known-state cost", mean["known state"] / gain, "of gain", "higher", None, "tuned gain", 1.0),
    ]
    for name, value in mean.items():
        if name not in ("default decision", "known state"):
            found.append(row(f"small, {name}, mean cost", value, "of optimum", "lower", None, best, 1.0))
    return found


def violations(search: Search) -> tuple[int, int]:
    """States of a finished search where the bound lies above what a known policy costs, and states looked at."""
    nodes: list[Node] = search.nodes()
    model = search.model
    wrong = 0
    for start in range(0, len(nodes), 2000):
        part = nodes[start : start + 2000]
        places = sorted({node.access for node in part})
        which = np.array([places.index(node.access) for node in part])
        unused = np.array([[0.0 if node.used & bit else 1.0 for bit in model.once_bits] for node in part])
        low, _ = search.bound.low(
            np.array([node.belief for node in part]), [model.at(a) for a in places], which, unused
        )
        wrong += int(np.sum(low > np.array([node.high for node in part]) * (1.0 + 1e-8) + 1e-8))
    return wrong, len(nodes)


def tuned(model: Model, rival: rivals.Tuned) -> float:
    """The exact cost with the best of six thresholds."""
    return min(policy_cost(model, rival(model, threshold)) for threshold in rivals.THRESHOLDS)


def large_problems(quick: bool) -> list[Row]:
    """Cost against tuned information gain and against the proven bound; time of a decision."""
    found = []
    jobs = 150 if quick else 1000
    times: list[float] = []
    for seed in range(FIRST_SEED, FIRST_SEED + (1 if quick else 3)):
        model = Model(large(seed))
        decider = Decider(model)
        problem = model.problem

        def ahead(belief: Floats, access: int, used: int, decider: Decider = decider) -> int:
            start = time.perf_counter()
            action = decider.ahead.choose(belief, access, used)
            times.append(time.perf_counter() - start)
            return action

        ours = played(model, ahead, jobs)
        gain = best_gain(model, jobs)
        chart = played(model, rivals.fixed_chart(model, 0.8), jobs)
        myopic = played(model, rivals.myopic_repair_aware(model), max(100, jobs // 5))
        root = decider.search.node(problem.prior, problem.initially, 0)
        decider.search.run(root, 5.0 if quick else 60.0)
        known = float(model.at(problem.initially).known @ problem.prior)
        tag = f"large {seed}"
        found += [
            row(f"{tag}, cost (se {ours[1]:.2f})", ours[0], "min", "lower", 0.95 * gain[0], "tuned gain", gain[0]),
            row(f"{tag}, cost over bound", ours[0] / root.low, "of bound", "lower", 1.08, "proven bound", root.low),
            row(f"{tag}, fixed chart (se {chart[1]:.2f})", chart[0], "min", "lower", None, "tuned gain", gain[0]),
            row(f"{tag}, myopic (se {myopic[1]:.2f})", myopic[0], "min", "lower", None, "tuned gain", gain[0]),
            row(f"{tag}, known-state cost", known / gain[0], "of gain", "higher", None, "tuned gain", gain[0]),
        ]
    return [
        *found,
        row("large, time of a decision, median", _ms(times, 0.5), "ms", "lower", 5.0, "goal", 5.0),
        row("large, time of a decision, p99", _ms(times, 0.99), "ms", "lower", 20.0, "goal", 20.0),
    ]


def played(model: Model, policy: Policy, jobs: int) -> tuple[float, float]:
    """Mean cost and standard error of simulated jobs."""
    trial = simulate(model, policy, jobs=jobs, seed=FIRST_SEED)
    assert trial is not None
    return trial.mean, trial.error


def best_gain(model: Model, jobs: int) -> tuple[float, float]:
    """Information gain with the threshold that does best on 300 jobs of its own."""
    tries: list[tuple[float, Callable[[Floats, int, int], int]]] = []
    for threshold in rivals.THRESHOLDS:
        policy = rivals.information_gain(model, threshold)
        trial = simulate(model, policy, jobs=300, seed=1)
        assert trial is not None
        tries.append((trial.mean, policy))
    return played(model, min(tries, key=lambda pair: pair[0])[1], jobs)


def _ms(times: list[float], share: float) -> float:
    return 1e3 * float(np.quantile(times, share))


def network_problems(quick: bool) -> list[Row]:
    """Problems drawn from published networks: proofs within a minute, and the default decision over the optimum.

    What the decision costs in the end is followed through every outcome, for the problems that were proven.
    """
    troubles = [t for t in networks.TROUBLES if not quick or t[1] in ("Problem4", "Problem6")]
    ratios: list[float] = []
    times: list[float] = []
    proven = 0
    with tempfile.TemporaryDirectory() as folder:
        for name, node, shows, seed in troubles:
            net = networks.network(name, Path(folder))
            model = Model(problem_from(networks.problem(net, node, shows, seed)))
            search = Search(model)
            root = search.node(model.problem.prior, model.problem.initially, 0)
            search.run(root, 60.0)
            if root.gap > 1e-6 * root.low:
                print(f"networks: {node} not proven, gap {root.gap / root.low:.2%}", file=sys.stderr)
                continue
            proven += 1
            ratios.append(policy_cost(model, fresh(Decider(model), NETWORK_ROUNDS, times)) / root.high)
    return [
        row("networks, default decision, mean cost", float(np.mean(ratios)), "of optimum", "lower", 1.02,
            "proven optimum", 1.0),
        row("networks, worst", max(ratios), "of optimum", "lower", None, "proven optimum", 1.0),
        row("networks, proven within 60 s", 100.0 * proven / len(troubles), "%", "higher", 100.0, "all", 100.0),
        row("networks, time of a decision, p99", _ms(times, 0.99), "ms", "lower", 50.0, "goal", 50.0),
    ]


def rows(quick: bool) -> list[Row]:
    """All figures of the planner."""
    return small_problems(quick) + network_problems(quick) + large_problems(quick)


if __name__ == "__main__":
    for line in rows("quick" in sys.argv[1:]):
        goal = "" if line["goal"] is None else f"goal {line['goal']:.4g} {'met' if line['met'] else 'MISSED'}"
        print(f"{line['name']:<55} {line['value']:>10.4f} {line['unit']:<12} {goal}")

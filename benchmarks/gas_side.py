"""How many machines a second the gas side predicts: the compression gauge, the tester, one pull, a running engine.

Run: OMP_NUM_THREADS=1 python benchmarks/gas_side.py
"""

from __future__ import annotations

import importlib
import time
from typing import Any

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary import PARAMETERS
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

COUNT, TRIES = 20_000, 5
HELD = frozenset({"control-held"})
GAUGE = Arrangement(off=frozenset({"plug", "plug-lead"}), added=HELD, drive="rope")
PULLED = Arrangement(off=frozenset({"plug-lead"}), added=HELD, drive="rope")
TESTER = Arrangement(off=frozenset({"plug", "plug-lead"}), added=frozenset({"crank-held"}))
RUNNING = Arrangement(added=HELD, drive="running", thermal="hot", load="half")
SYSTEMS = (
    "compression", "leakdown", "valves", "crankcase", "combustion", "kickback", "cooling", "lubrication", "exhaust",
)  # fmt: skip


def timings(tries: int) -> list[tuple[str, float]]:
    """Processor seconds of each group of readings for the population, best of some tries."""
    rng = np.random.default_rng(5)
    machines = {
        name: entry.healthy.quantile(rng.uniform(1e-6, 1.0 - 1e-6, COUNT)) for name, entry in PARAMETERS.items()
    }
    everything = [
        entry.id
        for system in SYSTEMS
        for entry in importlib.import_module(f"firstpull.engine.vocabulary.{system}").OBSERVABLES
    ]
    groups = [
        ("compression gauge", GAUGE, ["compression_kpa"]),
        ("leak-down and places", TESTER, [n for n in everything if n.startswith(("leakdown", "hiss"))]),
        ("bump and effort of a pull", PULLED, ["compression_firmness", "pull_effort_n", "crank_locked"]),
        ("kick", RUNNING, ["kick"]),
        ("power, heat, smoke", RUNNING, ["engine_power_share", "head_c", "blue_smoke", "crankcase_vacuum_kpa"]),
        (f"all {len(everything)}, gauge on", GAUGE, everything),
        (f"all {len(everything)}, running", RUNNING, everything),
    ]
    return [
        (label, min(_seconds(machines, arrangement, names) for _ in range(tries)))
        for label, arrangement, names in groups
    ]


def rows(quick: bool) -> list[dict[str, Any]]:
    """Milliseconds of each group for the population; the gauge alone has a goal."""
    found = []
    for label, seconds in timings(2 if quick else TRIES):
        goal = 25.0 if label == "compression gauge" else None
        took = seconds * 1e3
        found.append({
            "name": f"{label}, {COUNT} machines", "value": took, "unit": "ms", "better": "lower", "goal": goal,
            "met": None if goal is None else took <= goal, "anchor": None, "anchor_value": None, "ratio": None,
        })
    return found


def main() -> None:
    """Print the groups and machines a second."""
    print(f"{COUNT} machines, best of {TRIES}")
    for label, best in timings(TRIES):
        print(f"{label:28s} {best * 1e3:8.1f} ms {COUNT / best:12,.0f} machines/s")


def _seconds(machines: dict[str, NDArray[np.float64]], arrangement: Arrangement, names: list[str]) -> float:
    begin = time.process_time()
    predict(machines, {}, Conditions(), arrangement, Setup(), names)
    return time.process_time() - begin


if __name__ == "__main__":
    main()

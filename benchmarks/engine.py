"""The virtual engine in figures: against a transistor-level circuit, and machines a second.

    OMP_NUM_THREADS=1 python benchmarks/engine.py [--quick]

The circuit simulator is the anchor: the same machines go through both models in this run, and both are timed here, in
seconds of one core (processor time, so that neighbours on a shared machine count little). Seeds were fixed before the
first run.
"""

from __future__ import annotations

import os
import resource
import shutil
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

os.environ.setdefault("OMP_NUM_THREADS", "1")
ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

import numpy as np  # noqa: E402  after the number of threads is set

from firstpull.base.draws import stratified  # noqa: E402
from firstpull.engine.magneto import edge  # noqa: E402
from firstpull.engine.predict import predict  # noqa: E402
from firstpull.engine.vocabulary import OBSERVABLES, PARAMETERS  # noqa: E402
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup  # noqa: E402
from tests.outside.random_magnetos import ASKED_KV, draw  # noqa: E402
from tests.outside.transistor_deck import run  # noqa: E402

Row = dict[str, Any]
MACHINES = 20_000
SEED = "engine benchmark, first seed"
CIRCUIT = "ngspice, transistor-level circuit of the same machines"
_HELD = frozenset({"control-held"})
_PULLED = Arrangement(added=_HELD, drive="rope")
_TESTER = Arrangement(added=_HELD | {"tester-on-lead"}, drive="rope")
_METER = Arrangement(added=_HELD, off=frozenset({"stop-lead"}))
_GAUGE = Arrangement(added=_HELD, off=frozenset({"plug"}), drive="rope")
_RUNNING = Arrangement(added=_HELD, drive="running")
_ASKED: tuple[tuple[str, Arrangement], ...] = (
    ("tester_margin", _TESTER), ("stop_tab_ohm", _METER), ("stops_on_release", _RUNNING), ("would_run", _RUNNING),
    ("plug_spark_margin", _PULLED), ("compression_kpa", _GAUGE), ("leakdown_percent", _METER),
    ("start_mixture_phi", _PULLED), ("start_chance", _PULLED), ("choke_response", _RUNNING),
    ("hunting_swing_rpm", _RUNNING),
)  # fmt: skip


def _row(
    name: str, value: float, unit: str, better: str, goal: float | None = None, anchor: str | None = None,
    anchor_value: float | None = None, ratio: float | None = None,
) -> Row:  # fmt: skip
    met = None if goal is None else bool(value <= goal if better == "lower" else value >= goal)
    return {
        "name": name, "value": value, "unit": unit, "better": better, "goal": goal, "met": met, "anchor": anchor,
        "anchor_value": anchor_value, "ratio": ratio,
    }  # fmt: skip


def _best(act: Callable[[], object], times: int) -> float:
    """Processor seconds of the fastest of several goes."""
    found = []
    for _ in range(times):
        began = time.process_time()
        act()
        found.append(time.process_time() - began)
    return min(found)


def _children_s() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def against_circuit(count: int) -> list[Row]:
    """Accuracy and speed of the reduced magneto against the circuit simulator."""
    machines = draw(count, SEED)
    shape = edge(90.0)
    reduced, angle = machines.reduced_kv()
    found, seconds = [], []
    for index in range(count):
        deck_machine = machines.deck_machine(index)
        began = _children_s()
        found.append(run(deck_machine, shape))
        seconds.append(_children_s() - began)
    batch = draw(MACHINES, SEED + ", batch")
    ours_us = 1e6 * _best(batch.reduced_kv, 7) / MACHINES
    theirs_us = 1e6 * float(np.median(seconds))
    kv = np.array([one["kv"] for one in found])
    opened = np.array([one.get("deg", np.nan) for one in found])
    useful = (kv > 4.5) & (reduced > 2.0)
    error = 100.0 * (reduced[useful] / kv[useful] - 1.0)
    same = (reduced > ASKED_KV) == (kv > ASKED_KV)
    clear = np.abs(kv / ASKED_KV - 1.0) > 0.06
    return [
        _row("magneto peak voltage, rms error", float(np.sqrt(np.mean(error**2))), "%", "lower", 2.0, CIRCUIT, 0.0),
        _row("magneto peak voltage, mean error", float(np.mean(error)), "%", "lower", None, CIRCUIT, 0.0),
        _row("magneto peak voltage, largest error", float(np.max(np.abs(error))), "%", "lower", None, CIRCUIT, 0.0),
        _row("fires or not, same verdict", 100.0 * float(np.mean((kv > 2.0) == (reduced > 2.0))), "%", "higher", None,
             CIRCUIT, 100.0),
        _row("jumps an 8 kV gap or not, same verdict", 100.0 * float(np.mean(same)), "%", "higher", 98.0, CIRCUIT,
             100.0),
        _row("the same where the circuit is over 6 % away", 100.0 * float(np.mean(same[clear])), "%", "higher", 100.0,
             CIRCUIT, 100.0),
        _row("break angle, rms difference", float(np.sqrt(np.nanmean((opened - angle)[useful] ** 2))), "deg", "lower",
             None, CIRCUIT, 0.0),
        _row("magneto, time a machine", ours_us, "us", "lower", None, CIRCUIT, theirs_us, theirs_us / ours_us),
        _row("magneto, times faster than the circuit", theirs_us / ours_us, "1", "higher", 50_000.0, CIRCUIT, 1.0,
             theirs_us / ours_us),
    ]  # fmt: skip


def throughput(times: int) -> list[Row]:
    """Milliseconds for one observable in one arrangement of 20,000 healthy machines, everything else forgotten."""
    params = {
        name: parameter.healthy.quantile(stratified(("engine benchmark", name), MACHINES))
        for name, parameter in PARAMETERS.items()
    }
    rows = []
    for name, arrangement in _ASKED:
        if name not in OBSERVABLES:
            continue

        def ask(name: str = name, arrangement: Arrangement = arrangement) -> object:
            return predict(params, {}, Conditions(), arrangement, Setup(), [name])

        ask()
        took = 1e3 * _best(ask, times)
        rows.append(_row(f"{name} of 20,000 machines", took, "ms", "lower", 25.0))
    return rows


def rows(quick: bool) -> list[Row]:
    """All figures of the virtual engine; quick means fewer machines through the circuit simulator."""
    made = throughput(3 if quick else 9)
    if shutil.which("ngspice") is not None:
        made += against_circuit(40 if quick else 400)
    return made


if __name__ == "__main__":
    for row in rows("--quick" in sys.argv):
        goal = "" if row["goal"] is None else f"goal {row['goal']:g} {'met' if row['met'] else 'MISSED'}"
        ratio = "" if row["ratio"] is None else f"ratio {row['ratio']:,.0f}"
        print(f"{row['name']:48s} {row['value']:12.3f} {row['unit']:4s} {goal:22s} {ratio}")

"""How near the hot loops of the engine run to what this core can do, everything measured in the same run.

`OMP_NUM_THREADS=1 python -m benchmarks.limits`. Three ceilings: what a copy moves through memory and through the
cache; what a matrix product reaches in single precision; and what numpy itself needs for the same passes over arrays
of the same length, one elementary function at a time. The passes of the stroke are counted while it runs, those of the
coil by hand below.
"""

from __future__ import annotations

import os
import time
from collections import Counter
from collections.abc import Callable
from functools import partial
from typing import Any, ClassVar

os.environ.setdefault("OMP_NUM_THREADS", "1")

import numpy as np

from benchmarks.engine import MACHINES, SEED
from firstpull.engine import compression, magneto
from firstpull.engine.compression import Geometry, Stroke
from firstpull.engine.stroke import ROWS, March
from tests.outside.random_magnetos import draw

Row = dict[str, Any]
BLOCK = MACHINES
MOWER = Geometry(160e-6, 65e-3, 48.2e-3, 0.28)
# What one step of the coil current asks of every machine that still waits (magneto.py, `advance` and `opening`): three
# passes for the current, two for where the switch conducts, one to cut off, three for what the trigger feels, one to
# compare.
COIL_PASSES = 10
_SLOW = ("exp", "log", "sqrt", "divide")  # everything else costs what a product costs


class Counted(np.ndarray[Any, np.dtype[Any]]):
    """An array that counts the passes made over it, by function, and the bytes they touch."""

    passes: ClassVar[Counter[str]] = Counter()
    moved: ClassVar[int] = 0

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **named: Any) -> Any:
        """Count, then do as any array does."""
        plain = [np.asarray(i) for i in inputs]
        out = named.pop("out", None)
        if out is not None:
            named["out"] = tuple(np.asarray(o) for o in out)
        made = getattr(ufunc, method)(*plain, **named)
        size = max(a.size for a in plain)
        Counted.passes[ufunc.__name__] += 1
        Counted.moved += sum(a.nbytes for a in plain if a.size == size) + np.asarray(made).nbytes
        return out[0] if out is not None else np.asarray(made).view(Counted)


def _best(act: Callable[[], object], times: int) -> float:
    found = []
    for _ in range(times):
        began = time.process_time()
        act()
        found.append(time.process_time() - began)
    return min(found)


def pass_seconds(times: int) -> dict[str, float]:
    """Seconds a machine for one pass of each function over arrays as long as those of the marches, many in turn."""
    room = np.random.default_rng(1).uniform(0.5, 1.5, (ROWS, BLOCK)).astype(np.float32)
    target = np.empty((3, BLOCK), dtype=np.float32)

    def sweep(ufunc: np.ufunc) -> None:
        for k in range(ROWS):
            given = (room[k], room[k - 4])[: ufunc.nin]
            ufunc(*given, out=target[k % 3])

    return {
        name: _best(partial(sweep, getattr(np, name)), times) / (ROWS * BLOCK) for name in (*_SLOW, "multiply")
    }


def copy_gb_s(megabytes: float, times: int) -> float:
    """Bytes read and written by a copy of this many megabytes, in thousand millions a second."""
    given = np.ones(int(megabytes * 1e6 / 8))
    taken = np.empty_like(given)
    again = max(1, int(64 / megabytes))

    def act() -> None:
        for _ in range(again):
            np.copyto(taken, given)

    return 2e-9 * given.nbytes * again / _best(act, times)


def product_gflop_s(times: int) -> float:
    """Thousand millions of operations a second in a product of matrices in single precision."""
    side = 512
    one = np.ones((side, side), dtype=np.float32)
    return 2e-9 * side**3 / _best(lambda: one @ one, times)


def strokes(count: int) -> Stroke:
    """Mowers pulled by rope, their leaks from tight to burnt."""
    rng = np.random.default_rng(3)
    one = np.ones(count)
    return Stroke(
        rng.normal(130.0, 5.0, count), rng.normal(21e-6, 4e-7, count), rng.normal(450.0, 80.0, count),
        10.0 ** rng.uniform(-2.0, 0.5, count), rng.uniform(0.0, 12.0, count), rng.normal(50.0, 3.0, count),
        101325.0 * one, 291.0 * one, 291.0 * one, 101325.0 * one,
    )  # fmt: skip


def counted_stroke() -> tuple[Counter[str], float]:
    """Passes of one stroke by function, and the bytes a machine that they touch."""
    Counted.passes, Counted.moved = Counter(), 0
    room = np.empty((ROWS, BLOCK), dtype=np.float32).view(Counted)
    March(strokes(BLOCK), MOWER, compression.GRID_DEG, room).run(None)
    return Counted.passes, Counted.moved / BLOCK


def _row(name: str, value: float, unit: str, better: str = "higher", anchor: str | None = None,
         anchor_value: float | None = None, ratio: float | None = None) -> Row:  # fmt: skip
    return {
        "name": name, "value": value, "unit": unit, "better": better, "goal": None, "met": None, "anchor": anchor,
        "anchor_value": anchor_value, "ratio": ratio,
    }  # fmt: skip


def rows(quick: bool) -> list[Row]:
    """Ceilings, the two marches, and how near they come."""
    times = 5 if quick else 15
    each, cache, memory = pass_seconds(times), copy_gb_s(0.4, times), copy_gb_s(64.0, times)
    peak = product_gflop_s(times)
    made = strokes(BLOCK)
    stroke_s = _best(lambda: compression.compress(made, MOWER, precision=np.float32), times) / BLOCK
    passes, touched = counted_stroke()
    least_s = sum(count * each.get(name, each["multiply"]) for name, count in passes.items())
    total = sum(passes.values())
    batch = draw(BLOCK, SEED + ", batch")
    primary, shape = batch.primary(), magneto.edge(90.0)
    coil_s = _best(lambda: magneto.break_of(primary, batch.rpm, shape, precision=np.float32), times) / BLOCK
    coil_least_s = COIL_PASSES * magneto.STEPS * each["multiply"]
    coil_bytes = COIL_PASSES * magneto.STEPS * 3 * 4.0
    own, line = "numpy, the same passes alone", "copy within the cache"
    return [
        _row("copy in memory, 64 MB", memory, "GB/s"), _row("copy within the cache, 0.4 MB", cache, "GB/s"),
        _row("matrix product, single precision", peak, "Gflop/s"),
        *(_row(f"one pass over {BLOCK:,} numbers: {name}", 1e9 * s, "ns", "lower") for name, s in each.items()),
        _row(f"stroke, {total} passes, time a machine", 1e6 * stroke_s, "us", "lower", own, 1e6 * least_s,
             stroke_s / least_s),
        _row("stroke, share of the limit of its passes", 100.0 * least_s / stroke_s, "%"),
        _row("stroke, bytes touched", 1e-9 * touched / stroke_s, "GB/s", "higher", line, cache,
             1e-9 * touched / stroke_s / cache),
        _row("stroke, operations", 1e-9 * total / stroke_s, "Gflop/s", "higher", "matrix product", peak,
             1e-9 * total / stroke_s / peak),
        _row(f"coil, {COIL_PASSES} passes in {magneto.STEPS} steps, time a machine", 1e6 * coil_s, "us", "lower", own,
             1e6 * coil_least_s, coil_s / coil_least_s),
        _row("coil, share of the limit of its passes", 100.0 * coil_least_s / coil_s, "%"),
        _row("coil, bytes touched", 1e-9 * coil_bytes / coil_s, "GB/s", "higher", line, cache,
             1e-9 * coil_bytes / coil_s / cache),
    ]  # fmt: skip


if __name__ == "__main__":
    for row in rows(quick=False):
        ratio = "" if row["ratio"] is None else f"x{row['ratio']:.3g} of {row['anchor']} ({row['anchor_value']:.4g})"
        print(f"{row['name']:52s} {row['value']:10.3f} {row['unit']:8s} {ratio}")

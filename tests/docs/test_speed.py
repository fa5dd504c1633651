"""What the page on speed says of the loops is what is counted while they run."""

from __future__ import annotations

import numpy as np

from benchmarks.limits import Counted, counted_stroke
from firstpull.engine import magneto
from firstpull.engine.compression import GRID_DEG
from tests.docs.reading import ROOT

TEXT = (ROOT / "docs" / "physics" / "speed.md").read_text(encoding="utf-8")


def test_the_passes_of_the_stroke_are_as_many_as_the_page_says() -> None:
    passes, touched = counted_stroke()
    assert f"{sum(passes.values()):,} passes" in TEXT
    assert touched > 4.0 * sum(passes.values())
    # One logarithm a step, two exponentials at its beginning and two at its end.
    assert passes["log"] <= len(GRID_DEG)
    assert passes["exp"] <= 4 * len(GRID_DEG)


def test_steps_of_coil_and_stroke_are_those_of_the_page() -> None:
    assert f"{magneto.STEPS} steps" in TEXT
    assert f"{len(GRID_DEG) - 1} angles" in TEXT


def test_a_pass_over_a_counted_array_is_counted_with_what_it_touches() -> None:
    Counted.passes.clear()
    Counted.moved = 0
    some = np.ones(100, dtype=np.float32).view(Counted)
    some *= 2.0
    np.exp(some, out=some)
    assert dict(Counted.passes) == {"multiply": 1, "exp": 1}
    assert Counted.moved == 2 * 100 * 4 * 2

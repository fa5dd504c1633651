"""Each sheet still looks as it was approved, within a stated tolerance.

The approved pictures are first pages on A4 in grey at 40 dots an inch. Tolerance, on a scale of 0 to 255: the mean
difference may be 1.5, and no square of 10 by 10 dots may differ by more than 30 on average. Both leave room for other
versions of the rasteriser (judgement). ``FIRSTPULL_RENEW_GOLDEN=1`` writes the pictures anew, to be looked at by eye.
"""

import os
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from firstpull import paper
from tests.paper import harrow_vale_sheets as vale
from tests.paper.reading import photographed

GOLDEN = Path(__file__).parent / "golden"
MEAN, SQUARE, SIDE = 1.5, 30.0, 10


def difference(one: Image.Image, other: Image.Image) -> tuple[float, float]:
    """The mean difference, and that of the worst square."""
    assert one.size == other.size
    gap: NDArray[np.float64] = np.abs(np.asarray(one, dtype=np.float64) - np.asarray(other, dtype=np.float64))
    high, wide = (gap.shape[0] // SIDE * SIDE, gap.shape[1] // SIDE * SIDE)
    squares = gap[:high, :wide].reshape(high // SIDE, SIDE, wide // SIDE, SIDE).mean(axis=(1, 3))
    return float(gap.mean()), float(squares.max())


@pytest.mark.parametrize("name", vale.SHEETS)
def test_a_sheet_looks_as_approved(name: str, tmp_path: Path) -> None:
    now = photographed(paper.render(vale.SHEETS[name]), tmp_path)
    approved = GOLDEN / f"{name}.png"
    if os.environ.get("FIRSTPULL_RENEW_GOLDEN") == "1":
        now.save(approved, optimize=True)
    with Image.open(approved) as before:
        mean, worst = difference(now, before.convert("L"))
    assert mean <= MEAN
    assert worst <= SQUARE


def test_the_tolerance_notices_one_caution_gone(tmp_path: Path) -> None:
    whole = photographed(paper.render(vale.HAND_OVER), tmp_path)
    less = photographed(paper.render(replace(vale.HAND_OVER, cautions=vale.HAND_OVER.cautions[:1])), tmp_path)
    mean, worst = difference(whole, less)
    assert mean > MEAN or worst > SQUARE


def test_the_tolerance_notices_another_sum(tmp_path: Path) -> None:
    total = paper.Total("To pay", "$19.00", strong=True)
    one = photographed(paper.render(vale.RETURNED), tmp_path)
    other = photographed(paper.render(replace(vale.RETURNED, totals=(total,))), tmp_path)
    mean, worst = difference(one, other)
    assert mean > MEAN or worst > SQUARE

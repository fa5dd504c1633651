"""What a gauge must show for a cold start, against what benches go by. Common practice, no primary source."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.engine.healthy_mowers import PULLED, shown, warm, with_fault

FloatArray = NDArray[np.float64]
PSI_KPA = 6.894757
AT_GAUGE = replace(PULLED, off=frozenset({"plug"}))
SIZES: dict[str, dict[str, float | str]] = {
    "overhead valve with release": {},
    "overhead valve, no release": {"compression_release": "none"},
    "side valve with release": {"compression_release": "intake-lift", "compression_ratio": 6.2, "valve_gear": "side"},
}


def _gauge_and_starts(ring_leak_mm2: float, sizes: dict[str, float | str]) -> tuple[FloatArray, FloatArray]:
    leaking = with_fault(ring_leak_mm2=ring_leak_mm2)
    needle = shown("compression_kpa", leaking, AT_GAUGE, sizes) / PSI_KPA
    return needle, shown("start_chance", leaking, sizes=sizes)


@pytest.mark.parametrize("sizes", SIZES.values(), ids=list(SIZES))
def test_below_thirty_psi_nothing_starts_cold_and_above_seventy_compression_is_no_reason(
    sizes: dict[str, float | str],
) -> None:
    # Benches want about 60 psi for a cold start (common practice, no source), some say 50: the edge lies between.
    found = [_gauge_and_starts(leak, sizes) for leak in np.linspace(0.5, 14.0, 10)]
    needle = np.concatenate([pair[0] for pair in found])
    starts = np.concatenate([pair[1] for pair in found])
    assert float((starts[needle < 30.0] > 0.5).mean()) < 0.02
    assert float((starts[needle > 70.0] > 0.5).mean()) > 0.98
    between = (needle > 42.0) & (needle < 62.0)
    assert 0.15 < float((starts[between] > 0.5).mean()) < 0.85


def test_a_two_stroke_wants_about_ninety_psi() -> None:
    # "Below 90 it is hard to start, below 60 it is scrap": common practice, no source.
    sizes: dict[str, float | str] = {
        "cycle": "two-stroke", "compression_release": "none", "compression_ratio": 7.6, "compression_begins_deg": 105.0,
        "displacement_cm3": 25.0, "bore_mm": 34.0, "stroke_mm": 28.0, "usual_rope_rpm": 1150.0,
    }  # fmt: skip
    found = [_gauge_and_starts(leak, sizes) for leak in np.linspace(0.2, 5.0, 10)]
    needle = np.concatenate([pair[0] for pair in found])
    fires = np.concatenate([shown("pull_start_chance", with_fault(ring_leak_mm2=leak), sizes=sizes)
                            for leak in np.linspace(0.2, 5.0, 10)])  # fmt: skip
    best = float(np.median(fires[needle > 110.0]))
    assert float(np.median(fires[(needle > 92.0) & (needle < 110.0)])) > 0.8 * best
    assert float(np.median(fires[(needle > 40.0) & (needle < 60.0)])) < 0.1 * best


def test_a_warm_engine_starts_on_less_than_a_cold_one() -> None:
    # Tried cold, a worn engine fails first; once warm it is restarted: common practice, no source.
    leaking = with_fault(ring_leak_mm2=4.5)
    assert float(shown("start_chance", leaking).mean()) < 0.45
    assert float(shown("start_chance", leaking, warm(PULLED)).mean()) > 0.6

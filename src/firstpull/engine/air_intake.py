"""Air on its way in: suction behind the filter, air drawn, leaks that show as bubbles."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]


def filter_closed_share(blockage: FloatArray, oily: FloatArray) -> FloatArray:
    """Share of the element that dirt and soaking close together.

    Args:
        blockage: share closed by dirt [1], shape (N,).
        oily: soaking with oil or water, 0 dry to 1 soaked [1], shape (N,).

    Returns:
        Share closed [1], shape (N,).

    Valid: 0 to 1.
    Source: two covers that overlap by chance; weight of soaking: judgement.
    """
    return 1.0 - (1.0 - blockage) * (1.0 - constants.value("oil_clog_share") * oily)


def filter_drop_pa(closed_share: FloatArray) -> FloatArray:
    """Suction behind the filter at full air flow.

    Args:
        closed_share: share of the element that is closed [1], shape (N,).

    Returns:
        Suction [Pa], shape (N,).

    Valid: 0 to 1; never quite shut.
    Source: flow through what is left, dp ~ 1/area^2; level and end: judgement.
    """
    left = 1.0 - constants.value("filter_clog_power") * closed_share
    return constants.value("filter_drop_pa") / left**2


def air_share(drop_pa: FloatArray, debris: FloatArray) -> FloatArray:
    """Air drawn at full throttle over that of a clean air way.

    Args:
        drop_pa: suction behind the filter that full flow would ask for [Pa], shape (N,).
        debris: share of the air way stopped by a nest or rag [1], shape (N,).

    Returns:
        Share of the air [1], shape (N,).

    Valid: suction small against air pressure.
    Source: resistances in a row share one suction, flow ~ sqrt (textbook); level: judgement.
    """
    full = constants.value("full_air_pa")
    clean = constants.value("filter_drop_pa")
    free = np.clip(1.0 - debris, 0.01, 1.0)
    return np.sqrt((full + clean) / (full / free**2 + drop_pa))


def bubbles(leak_mm2: FloatArray) -> FloatArray:
    """How plainly a leak shows as bubbles under a small test pressure.

    Args:
        leak_mm2: leak area [mm2], shape (N,).

    Returns:
        0 none to 1 strong [1], shape (N,).

    Valid: engine stopped, soapy water, a few kilopascal.
    Source: judgement.
    """
    size = np.log(np.clip(leak_mm2, 1e-6, None) / constants.value("bubble_mm2"))
    return step_up(size, 0.0, constants.value("bubble_width"))

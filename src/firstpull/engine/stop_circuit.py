"""Resistance from the coil's stop tab to the frame, and whether it is low enough to stop a running engine."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]


def step_up(value: FloatArray, middle: float, width: float) -> FloatArray:
    """A soft step from 0 to 1.

    Args:
        value: where we are [1], shape (N,).
        middle: where the step is half up [1], scalar.
        width: how soft it is [1], scalar.

    Returns:
        Between 0 and 1 [1], shape (N,).

    Valid: any value.
    Source: logistic function.
    """
    return 1.0 / (1.0 + np.exp(-np.clip((value - middle) / width, -60.0, 60.0)))


def switch_ohm(open_share: FloatArray, open_ohm: FloatArray, closed_ohm: FloatArray) -> FloatArray:
    """Resistance of a contact that is somewhere between open and closed.

    Args:
        open_share: 1 fully open, 0 fully closed [1], shape (N,).
        open_ohm: resistance when open [ohm], shape (N,).
        closed_ohm: resistance when closed [ohm], shape (N,).

    Returns:
        Resistance [ohm], shape (N,).

    Valid: conductances mix; only the two ends are physical, between them the contact chatters.
    Source: judgement.
    """
    closed = np.maximum(closed_ohm, 1e-3)
    return 1.0 / (open_share / np.maximum(open_ohm, 1e-3) + (1.0 - open_share) / closed)


def control_open_share(
    held: FloatArray, open_travel: FloatArray, returns: FloatArray
) -> FloatArray:
    """How far the operator's switch is open.

    Args:
        held: 1 where the control is held, 0 where it is let go [1], shape (N,).
        open_travel: travel the held control gives over what the switch needs [1], shape (N,).
        returns: how far the switch comes back when let go [1], shape (N,).

    Returns:
        1 open (may run), 0 closed (stops) [1], shape (N,).

    Valid: opens above 0.6 of the travel, closes above 0.5 of the way back.
    Source: judgement.
    """
    opened = step_up(open_travel, 0.6, constants.value("control_step_width"))
    stays_open = 1.0 - step_up(returns, 0.5, constants.value("control_step_width"))
    return held * opened + (1.0 - held) * stays_open


def tab_ohm(
    lead_leak_ohm: FloatArray, series_ohm: FloatArray, branches_ohm: tuple[FloatArray, ...]
) -> FloatArray:
    """Stop tab end of the lead to frame: a chafe beside switches that hang on the lead.

    Args:
        lead_leak_ohm: leak of the lead itself [ohm], shape (N,).
        series_ohm: along the lead to the switches [ohm], shape (N,).
        branches_ohm: each switch to frame [ohm], shape (N,) each.

    Returns:
        Resistance to frame [ohm], shape (N,).

    Valid: a chafe sits before a break of the lead.
    Source: resistors in parallel and series.
    """
    switches = sum((1.0 / branch for branch in branches_ohm), start=np.zeros_like(lead_leak_ohm))
    return 1.0 / (1.0 / lead_leak_ohm + 1.0 / (series_ohm + 1.0 / np.maximum(switches, 1e-15)))


def stop_chance(available_kv: FloatArray, asked_kv: FloatArray) -> FloatArray:
    """Chance that a grounded coil no longer fires the plug of a running engine.

    Args:
        available_kv: peak voltage with the stop circuit closed [kV], shape (N,).
        asked_kv: what the plug asks at running speed with no load [kV], shape (N,).

    Returns:
        1 stops, 0 runs on [1], shape (N,).

    Valid: every revolution is another try, so a few sparks are enough to keep it turning.
    Source: judgement on the scatter of single breakdowns.
    """
    margin = available_kv / asked_kv
    return 1.0 - step_up(margin, 0.95, constants.value("spark_scatter"))

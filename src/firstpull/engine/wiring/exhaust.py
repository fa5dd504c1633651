"""Wires the way out of the cylinder."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants, exhaust
from firstpull.engine.lubrication import chance
from firstpull.engine.machine import Machine, rule
from firstpull.engine.wiring import leak_places as places

FloatArray = NDArray[np.float64]


@rule("exhaust_open_share")
def _open(m: Machine) -> FloatArray:
    """Free way out over a clean one; above 1 with screen or muffler off."""
    on = not m.off("muffler")
    screen_in = on and not m.off("screen") and m.trait("spark_screen") == "yes"
    port = m.parameter("port_carbon") * (1.0 - places.has_valves(m))
    return exhaust.open_share(m.parameter("muffler_blockage"), m.parameter("screen_blockage"), port, screen_in, on)


@rule("breathing")
def _breathing(m: Machine) -> FloatArray:
    lift = m.parameter("exhaust_lift_share") if places.has_valves(m) else np.ones(m.count)
    out = np.minimum(m.quantity("exhaust_open_share"), 1.0) * -np.expm1(-lift / 0.12)
    late = m.parameter("cam_timing_error_deg") * places.has_valves(m) / constants.value("valves_cam_breath_deg")
    return out * m.quantity("scavenge_share") * np.exp(-(late**2))


def back_pressure_pa(m: Machine, open_share: FloatArray) -> FloatArray:
    """Mean back pressure at full load for a share of the clean way out."""
    return exhaust.back_pressure(
        open_share,
        m.size("muffler_area_mm2"),
        m.size("displacement_cm3") * 1e-6,
        m.size("rated_speed_rpm"),
        1.0 if m.trait("cycle") == "two-stroke" else 2.0,
        np.full(open_share.size, places.ambient_pa(m)),
    )


@rule("backpressure_pa")
def _backpressure(m: Machine) -> FloatArray:
    return back_pressure_pa(m, m.quantity("exhaust_open_share"))


@rule("exhaust_backpressure_kpa")
def _backpressure_kpa(m: Machine) -> FloatArray:
    return m.quantity("backpressure_pa") / 1e3


@rule("residual_share")
def _residual(m: Machine) -> FloatArray:
    lift = m.parameter("exhaust_lift_share") if places.has_valves(m) else np.ones(m.count)
    return exhaust.residual(m.quantity("backpressure_pa"), np.full(m.count, places.ambient_pa(m)), lift)


@rule("exhaust_puff")
def _puff(m: Machine) -> FloatArray:
    lift = m.parameter("exhaust_lift_share") if places.has_valves(m) else np.ones(m.count)
    through = np.minimum(m.quantity("exhaust_open_share") / 0.5, 1.0)
    elsewhere = 1.0 - 0.5 * m.parameter("muffler_leak")
    return through * elsewhere * -np.expm1(-lift / 0.2) * m.quantity("scavenge_share")


@rule("exhaust_bark")
def _bark(m: Machine) -> FloatArray:
    leak = np.ones(m.count) if m.off("muffler") else m.parameter("muffler_leak") + 0.3 * m.parameter("muffler_loose")
    return chance(leak, constants.value("exhaust_bark_share"), constants.value("exhaust_bark_width"))

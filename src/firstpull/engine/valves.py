"""Lash, hanging valves, seats, cam and the compression release, as areas and angles."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants

FloatArray = NDArray[np.float64]


def lash_now(lash_mm: FloatArray, shift_mm: FloatArray, hot: bool) -> FloatArray:
    """Free lash in this thermal state; below zero the valve is held open.

    Args:
        lash_mm: cold lash [mm], shape (N,).
        shift_mm: how much it opens when hot [mm], shape (N,).
        hot: whether the engine is hot [1], scalar.

    Returns:
        Lash [mm], shape (N,).

    Valid: small shifts.
    Source: definition; the shift itself is doubtful (side-valve stems close, alloy heads often open).
    """
    return lash_mm + shift_mm if hot else lash_mm


def open_area(lift_mm: FloatArray, seat_mm: float) -> FloatArray:
    """Opening of a poppet valve.

    Args:
        lift_mm: lift off the seat, below zero counts as shut [mm], shape (N,).
        seat_mm: seat diameter [mm], scalar.

    Returns:
        Geometric opening, at most that of the port [mm2], shape (N,).

    Valid: 45 degree seats.
    Source: curtain area pi d l cos 45 (Heywood 1988, ch. 6, from memory).
    """
    curtain = np.pi * seat_mm * np.maximum(lift_mm, 0.0) * np.cos(np.pi / 4.0)
    return np.asarray(np.minimum(curtain, 0.8 * np.pi / 4.0 * seat_mm**2))


def release_area(
    nominal_mm2: float,
    lift_share: FloatArray,
    lash_mm: FloatArray,
    lash_nominal_mm: float,
    speed_rpm: FloatArray,
    off_rpm: float,
) -> FloatArray:
    """Effective opening of a release that lifts a valve by its cam.

    Args:
        nominal_mm2: opening as made [mm2], scalar.
        lift_share: working of the release [1], shape (N,).
        lash_mm: lash of that valve now [mm], shape (N,).
        lash_nominal_mm: lash at which it lifts as made [mm], scalar.
        speed_rpm: crank speed [rpm], shape (N,).
        off_rpm: speed at which weights draw it in [rpm], scalar.

    Returns:
        Opening [mm2], shape (N,).

    Valid: cranking; the bump is lost one for one to lash.
    Source: judgement: lift of the bump and speed of letting go.
    """
    bump = constants.value("valves_release_bump_mm")
    left = np.clip(1.0 - (lash_mm - lash_nominal_mm) / bump, 0.0, 1.3)
    drawn = _rise((speed_rpm - off_rpm) / constants.value("valves_release_width_rpm"))
    return np.asarray(nominal_mm2 * lift_share * left * (1.0 - drawn))


def filling(lift_share: FloatArray, lash_mm: FloatArray, full_lift_mm: float) -> FloatArray:
    """Share of its charge that a cylinder still gets when the intake valve lifts less, at pulling speed.

    Args:
        lift_share: lift over what the cam means to give [1], shape (N,).
        lash_mm: lash now [mm], shape (N,).
        full_lift_mm: full lift [mm], scalar.

    Returns:
        Share [1], shape (N,).

    Valid: slow speed, where a small lift fills nearly as well as a large one.
    Source: judgement: exponential law.
    """
    lift = np.maximum(lift_share * full_lift_mm - np.maximum(lash_mm - 0.3, 0.0), 0.0)
    # Never quite nothing: guides and throttle let a little past.
    return np.asarray(np.maximum(-np.expm1(-lift / constants.value("valves_fill_lift_mm")), 0.05))


def seat_leak(loose: FloatArray, hot: bool) -> FloatArray:
    """Leak of a loose seat or guide.

    Args:
        loose: how loose it is [1], shape (N,).
        hot: whether the engine is hot [1], scalar.

    Returns:
        Leak area [mm2], shape (N,).

    Valid: 0-1.
    Source: judgement: much worse when hot, because the head grows away from the seat.
    """
    return np.asarray(loose * constants.value("valves_loose_hot_mm2" if hot else "valves_loose_cold_mm2"))


def closing_angle(begin_deg: float, cam_late_deg: FloatArray, lash_mm: FloatArray) -> FloatArray:
    """Crank angle before top dead centre at which the cylinder closes.

    Args:
        begin_deg: angle as made [deg], scalar.
        cam_late_deg: how late the cam runs [deg], shape (N,).
        lash_mm: lash of the closing valve now [mm], shape (N,).

    Returns:
        Angle before top dead centre [deg], shape (N,).

    Valid: clipped to 20-178 deg.
    Source: judgement: 40 deg a millimetre of lash.
    """
    later = cam_late_deg - constants.value("valves_lash_deg_per_mm") * np.clip(lash_mm - 0.12, -0.2, 0.6)
    return np.asarray(np.clip(begin_deg - later, 20.0, 178.0))


def _rise(x: FloatArray) -> FloatArray:
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip(x, -40.0, 40.0))))

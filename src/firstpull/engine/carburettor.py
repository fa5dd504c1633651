"""How carburettor and choke turn suction into mixture strength."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.fuel import GRAVITY
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]
STANDARD_DENSITY = 1.225


def altitude_ratio(air_density: float) -> float:
    """How much richer a fixed jet runs in thin air.

    Args:
        air_density: density of the air [kg/m3], scalar.

    Returns:
        Mixture over that at sea level in the standard atmosphere [1], scalar.

    Valid: fixed jets, same throttle.
    Source: both flows go as sqrt(density * suction), so the ratio goes as sqrt(rho0/rho) (textbook).
    """
    return float(np.sqrt(STANDARD_DENSITY / air_density))


def suction_ratio(suction_pa: float, extra_pa: FloatArray, level_mm: FloatArray) -> FloatArray:
    """Change of fuel flow by extra suction at the nozzle and by fuel level.

    Args:
        suction_pa: suction of the sound carburettor at the nozzle [Pa], scalar.
        extra_pa: suction added by filter or choke against a bowl vented outside [Pa], shape (N,).
        level_mm: fuel level against the right one, above is positive [mm], shape (N,).

    Returns:
        Fuel flow over the sound one [1], shape (N,).

    Valid: level below the nozzle; more is overflow.
    Source: Q ~ sqrt(dp - rho g h) (textbook); sizes: judgement.
    """
    density = constants.value("fuel_density_kg_m3")
    lift = constants.value("lift_mm")
    sound = suction_pa - density * GRAVITY * lift * 1e-3
    now = suction_pa + extra_pa - density * GRAVITY * (lift - level_mm) * 1e-3
    return np.sqrt(np.clip(now, 0.0, None) / sound)


def choke_ratio(closed_share: FloatArray) -> FloatArray:
    """How much richer a choke makes the mixture.

    Args:
        closed_share: how far the choke is closed, 0 open to 1 shut [1], shape (N,).

    Returns:
        Mixture over that with the choke open [1], shape (N,).

    Valid: engine turned or running slowly.
    Source: judgement: about AFR 4 with the choke shut, a third richer at half choke. A plate turned half way in a bore
        leaves 1 - cos 45 deg of it and its relief hole; its suction adds to that of the venturi and fuel goes as the
        root of both (textbook), which gives 1.2 to 1.65 for reliefs of 0.07 to 0.2 of the throat.
    """
    rise = np.log(constants.value("choke_closed_ratio"))
    return np.asarray(np.exp(rise * np.clip(closed_share, 0.0, 1.0) ** constants.value("choke_power")))


def leak_ratio(leak_mm2: FloatArray, throat_mm: float, share_name: str) -> FloatArray:
    """How much leaner unmetered air makes the mixture.

    Args:
        leak_mm2: leak area behind the throttle [mm2], shape (N,).
        throat_mm: bore of the carburettor [mm], scalar.
        share_name: main_leak_share or idle_leak_share, the constant to use [1], scalar.

    Returns:
        Mixture over that without leak [1], shape (N,).

    Valid: leak small against the throat.
    Source: air adds in proportion to area (textbook); reference areas: judgement.
    """
    reference = constants.value(share_name) * np.pi / 4.0 * throat_mm**2
    return 1.0 / (1.0 + leak_mm2 / reference)


def jet_free(open_share: FloatArray, gum: FloatArray, dirt: FloatArray) -> FloatArray:
    """Flow that varnish and dirt leave of a jet.

    Args:
        open_share: flow area over the right one [1], shape (N,).
        gum: varnish, as far as it closes this jet, 0 to 1 [1], shape (N,).
        dirt: dirt in the bowl, 0 to 1 [1], shape (N,).

    Returns:
        Flow over the right one [1], shape (N,).

    Valid: 0 to 2.
    Source: judgement.
    """
    return open_share * np.clip(1.0 - gum, 0.0, 1.0) * (1.0 - constants.value("dirt_gain") * dirt)


def metering_ratio(stiffness: FloatArray, lever_mm: FloatArray, wrong_order: FloatArray) -> FloatArray:
    """Mixture of a diaphragm carburettor over the right one, by its metering side.

    Args:
        stiffness: diaphragm stiffness over a new one [1], shape (N,).
        lever_mm: lever height against its gauge, high is rich [mm], shape (N,).
        wrong_order: gasket and diaphragm exchanged, 0 or 1 [1], shape (N,).

    Returns:
        Mixture over the right one [1], shape (N,).

    Valid: stiffness 0.5 to 6.
    Source: judgement.
    """
    soft = np.clip(stiffness, 0.3, None) ** -constants.value("stiffness_power")
    lever = np.clip(1.0 + constants.value("lever_gain") * lever_mm, 0.2, 2.0)
    return soft * lever * (1.0 - constants.value("wrong_order_loss") * wrong_order)


def needle_hold_share(leak: FloatArray) -> FloatArray:
    """Test pressure left on a shut inlet needle after half a minute.

    Args:
        leak: needle leak, 0 tight to 1 wide open [1], shape (N,).

    Returns:
        Share of the pressure [1], shape (N,).

    Valid: hand pump on the inlet, volume of pump and hose.
    Source: exponential loss (textbook); rate: judgement.
    """
    return np.asarray(np.exp(-np.log(2.0) * leak / constants.value("needle_half_leak")))


def ice_dies_after_s(tendency: FloatArray, air_c: float) -> FloatArray:
    """Time until carburettor ice stops the engine.

    Args:
        tendency: how readily this one ices, 0 to 1 [1], shape (N,).
        air_c: air temperature [C], scalar.

    Returns:
        Time [s], shape (N,); 3600 where it does not ice.

    Valid: damp air.
    Source: judgement.
    """
    warm = step_up(np.asarray(float(air_c)), constants.value("icing_warmest_c"), 1.5)
    cold = step_up(np.asarray(float(air_c)), constants.value("icing_coldest_c"), 1.5)
    risk = tendency * cold * (1.0 - warm)
    unending = constants.value("unending_s")
    return np.minimum(constants.value("icing_s") / np.clip(risk - 0.1, 1e-3, None), unending)

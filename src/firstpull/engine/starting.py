"""From spark, compression, mixture, air and timing to the chance that a pull starts it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]


def spark_chance(margin: FloatArray) -> FloatArray:
    """Chance that a given try sparks.

    Args:
        margin: voltage available over voltage asked [1], shape (N,).

    Returns:
        Chance [1], shape (N,).

    Valid: scatter of single breakdowns a few per cent.
    Source: logistic in the margin; width: judgement (5-8 % scatter).
    """
    return step_up(margin, 1.0, constants.value("spark_scatter"))


def mixture_chance(phi: FloatArray, lean: float, rich: float) -> FloatArray:
    """Chance that a mixture burns.

    Args:
        phi: fuel-air equivalence ratio of the vapour [1], shape (N,).
        lean: ratio at which half of the tries burn, lean side [1], scalar.
        rich: the same, rich side [1], scalar.

    Returns:
        Chance [1], shape (N,).

    Valid: ratios of 0 to 10.
    Source: flammability of petrol in air 1.3-7 % by volume (fire-service tables, second-hand), as ratios 0.65-3.2 for
        starting; width: judgement.
    """
    room = np.minimum(phi - lean, rich - phi)
    return step_up(room, 0.0, constants.value("mixture_width"))


def timing_chance(spark_btdc_deg: FloatArray) -> FloatArray:
    """Chance that a spark at this angle turns the crank the right way.

    Args:
        spark_btdc_deg: spark before top dead centre [deg], shape (N,).

    Returns:
        Chance [1], shape (N,).

    Valid: any angle; between about 8 degrees late and 48 early it can start.
    Source: judgement.
    """
    after = spark_btdc_deg + constants.value("latest_start_deg")
    before = constants.value("earliest_start_deg") - spark_btdc_deg
    room = np.minimum(after, before)
    return step_up(room, 0.0, constants.value("timing_width_deg"))


def pressed_enough(peak_kpa: FloatArray, needed_kpa: float) -> FloatArray:
    """Chance that enough charge is left at the top for the first burn to carry the crank over the next top.

    Args:
        peak_kpa: absolute peak pressure without a spark [kPa], shape (N,).
        needed_kpa: the peak at which half of the tries do, from the constants file [kPa], scalar.

    Returns:
        Chance [1], shape (N,).

    Valid: petrol at pulling speed, hot or cold; what a cold charge asks beyond it: `warmed_enough`.
    Source: a burn gives work in step with the charge left at the top, and friction alone asks about a sixth of a
        full one (`combustion.friction_pressure` over full indicated pressure); edges and width: judgement.
    """
    return step_up(peak_kpa, needed_kpa, constants.value("start_peak_width_kpa"))


def warmed_enough(warmest_k: FloatArray) -> FloatArray:
    """Chance that compression warms the charge enough for the fuel carried in as droplets to burn.

    Args:
        warmest_k: highest temperature of the charge without a spark [K], shape (N,).

    Returns:
        Chance [1], shape (N,).

    Valid: petrol, -20 to 40 C of intake air; the walls of a hot engine nearly always warm it enough.
    Source: droplets are gone within a compression only where the gas is hotter than their boiling middle, for petrol
        about 373 K (EN 228, 46-71 % at 100 C, from memory); evaporating a right mixture takes another 24 K (0.0685 of
        fuel, 350 kJ/kg, heat capacity 1.0 kJ/kg K, textbook values), haste some more. From 18 C that is a needle at
        about 370 kPa, so that the 60 psi (414 kPa) which benches want for a cold start is safe: common practice, no
        source. Haste and width: judgement.
    """
    return step_up(warmest_k, constants.value("start_charge_k"), constants.value("start_charge_width_k"))


def within(pull_chance: FloatArray, pulls: float) -> FloatArray:
    """Chance that at least one of some pulls does it.

    Args:
        pull_chance: chance of one pull [1], shape (N,).
        pulls: number of pulls [1], scalar.

    Returns:
        Chance [1], shape (N,).

    Valid: pulls independent of each other.
    Source: elementary probability.
    """
    return 1.0 - (1.0 - np.clip(pull_chance, 0.0, 1.0)) ** pulls


def expected_pulls(pull_chance: FloatArray, most: float) -> FloatArray:
    """Expected number of pulls until it starts or one gives up.

    Args:
        pull_chance: chance of one pull [1], shape (N,).
        most: pulls after which one gives up [1], scalar.

    Returns:
        Expected pulls [1], shape (N,).

    Valid: pulls independent of each other.
    Source: mean of a truncated geometric distribution.
    """
    chance = np.clip(pull_chance, 1e-9, 1.0)
    return (1.0 - (1.0 - chance) ** most) / chance

"""What mixture strength does: burning, torque, plug, smoke, steadiness, popping back."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]
_COLOUR_PHI = np.array([0.6, 0.85, 1.0, 1.15, 1.3, 1.5, 2.2])
_COLOUR = np.array([0.0, 0.2, 0.4, 0.5, 0.68, 0.85, 1.0])


def burns_share(phi: FloatArray) -> FloatArray:
    """Share of cycles that a mixture of this strength lets burn.

    Args:
        phi: mixture strength [1], shape (N,).

    Returns:
        Share [1], shape (N,).

    Valid: 0 to 5, engine running.
    Source: lean and rich limits of the constants file.
    """
    lean = step_up(phi, constants.value("misfire_lean_phi"), constants.value("misfire_lean_width"))
    rich = step_up(phi, constants.value("misfire_rich_phi"), constants.value("misfire_rich_width"))
    return lean * (1.0 - rich)


def foreign_share(water: FloatArray, diesel: FloatArray) -> FloatArray:
    """Share of burning that water and heavy fuel leave.

    Args:
        water: share of water in what is drawn [1], shape (N,).
        diesel: share of heavy fuel [1], shape (N,).

    Returns:
        Share [1], shape (N,).

    Valid: 0 to 1.
    Source: judgement.
    """
    wet = (water / constants.value("water_misfire")) ** 2
    heavy = (diesel / constants.value("diesel_misfire")) ** 2
    return np.exp(-wet - heavy)


def torque_share(phi: FloatArray) -> FloatArray:
    """Torque of a mixture over the best one, cycles that do not burn included.

    Args:
        phi: mixture strength [1], shape (N,).

    Returns:
        Share [1], shape (N,).

    Valid: 0.5 to 3.
    Source: parabola on each side of best power; curvatures: judgement.
    """
    off = phi - constants.value("best_torque_phi")
    lean = constants.value("lean_torque_loss") * np.minimum(off, 0.0) ** 2
    rich = constants.value("rich_torque_loss") * np.maximum(off, 0.0) ** 2
    return np.clip(1.0 - lean - rich, 0.0, 1.0) * burns_share(phi)


def steadiness(phi: FloatArray) -> FloatArray:
    """How steadily an engine runs on this mixture.

    Args:
        phi: mixture strength [1], shape (N,).

    Returns:
        0 hunting or dying to 1 steady [1], shape (N,).

    Valid: 0.4 to 4.
    Source: judgement.
    """
    width = constants.value("steady_width")
    lean = step_up(phi, constants.value("steady_lean_phi"), width)
    rich = step_up(phi, constants.value("steady_rich_phi"), 3.0 * width)
    return lean * (1.0 - rich)


def plug_wetness(liquid_phi: FloatArray) -> FloatArray:
    """How wet the plug is after four choked pulls that did not start it.

    Args:
        liquid_phi: fuel supplied that did not evaporate, in the measure of mixture strength [1], shape (N,).

    Returns:
        0 dry to 1 dripping [1], shape (N,).

    Valid: 0 to 20.
    Source: judgement.
    """
    reached = step_up(liquid_phi, constants.value("wet_liquid_phi"), constants.value("wet_width"))
    return np.clip(reached, 0.0, 1.0)


def plug_colour(phi: FloatArray) -> FloatArray:
    """Colour of the plug nose after a run on this mixture.

    Args:
        phi: mixture strength [1], shape (N,).

    Returns:
        0 white, 0.5 tan, 1 sooty [1], shape (N,).

    Valid: plug of the right heat range, some minutes at load.
    Source: common practice; steps: judgement.
    """
    return np.asarray(np.interp(phi, _COLOUR_PHI, _COLOUR))


def black_smoke_chance(phi: FloatArray) -> FloatArray:
    """Chance that black smoke is plainly seen.

    Args:
        phi: mixture strength [1], shape (N,).

    Returns:
        Chance [1], shape (N,).

    Valid: warm engine.
    Source: judgement.
    """
    return step_up(phi, constants.value("smoke_phi"), constants.value("smoke_width"))


def lean_pop_chance(phi: FloatArray) -> FloatArray:
    """Chance that a lean, slowly burning charge lights the next one through the intake.

    Args:
        phi: mixture strength while the throttle opens [1], shape (N,).

    Returns:
        Chance [1], shape (N,).

    Valid: 0.4 to 2.
    Source: common practice; edge: judgement; nothing left to pop where nothing burns.
    """
    lean = 1.0 - step_up(phi, constants.value("pop_lean_phi"), constants.value("pop_width"))
    still_lights = step_up(phi, constants.value("misfire_lean_phi") - 0.2, 0.04)
    return 0.85 * lean * still_lights

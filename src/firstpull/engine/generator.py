"""Output of small generators: build-up, regulation, capacitor excitation, windings on an ohmmeter."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.engine import constants
from firstpull.engine.stop_circuit import step_up

FloatArray = NDArray[np.float64]


def output_hz(rpm: FloatArray, pole_pairs: float) -> FloatArray:
    """Frequency of a directly driven alternator.

    Args:
        rpm: speed [rpm], shape (N,).
        pole_pairs: pole pairs [1], scalar.

    Returns:
        Frequency [Hz], shape (N,).

    Valid: not inverter sets.
    Source: pole pairs times turns a second (textbook).
    """
    return rpm / 60.0 * pole_pairs


def builds_up(residual_v: FloatArray, path: FloatArray) -> FloatArray:
    """Chance that the field builds itself up from its residual magnetism.

    Args:
        residual_v: residual volts at the outlet at speed [V], shape (N,).
        path: soundness of the field path, 0 open to 1 sound [1], shape (N,).

    Returns:
        Chance [1], shape (N,).

    Valid: self-excited sets.
    Source: threshold of about 1.5 V, second-hand; width: judgement.
    """
    volts = np.clip(residual_v * path, 1e-4, None)
    return step_up(np.log(volts / constants.value("build_up_v")), 0.0, constants.value("build_up_width"))


def brush_share(length_mm: FloatArray, contact: FloatArray) -> FloatArray:
    """Contact of the brushes.

    Args:
        length_mm: length of the shorter brush [mm], shape (N,).
        contact: how well they sit on clean rings, 0 to 1 [1], shape (N,).

    Returns:
        0 open to 1 good [1], shape (N,).

    Valid: 0 to 25 mm.
    Source: judgement.
    """
    pressed = step_up(length_mm, constants.value("brush_least_mm"), constants.value("brush_width_mm"))
    return pressed * contact


def full_field_share(
    speed_share: FloatArray, rotor_turns: FloatArray, stator_turns: FloatArray, brush: FloatArray, gain: FloatArray
) -> FloatArray:
    """Volts at full field over nominal volts, no load.

    Args:
        speed_share: speed over rated [1], shape (N,).
        rotor_turns: live rotor turns over all [1], shape (N,).
        stator_turns: live stator turns over all [1], shape (N,).
        brush: contact of the brushes [1], shape (N,).
        gain: how much of the field the regulator can give [1], shape (N,).

    Returns:
        Volts over nominal [1], shape (N,).

    Valid: iron near saturation.
    Source: volts ~ speed * field * turns (textbook); powers: judgement.
    """
    low = constants.value("rotor_low_share")
    rotor = np.clip(rotor_turns, 0.0, 1.2) * step_up(rotor_turns, low - 0.25, 0.06)
    field = np.sqrt(np.clip(brush * gain * rotor, 0.0, None))
    speed = np.clip(speed_share, 0.0, None) ** constants.value("field_speed_power")
    return constants.value("full_field_share") * speed * field * np.clip(stator_turns, 0.0, 1.2)


def regulated_share(possible: FloatArray, over: FloatArray, load: float, winding_drop: float) -> FloatArray:
    """Volts under load over nominal volts, with a regulator.

    Args:
        possible: volts at full field over nominal, no load [1], shape (N,).
        over: regulator stuck in full field, 0 regulates to 1 [1], shape (N,).
        load: share of the full load [1], scalar.
        winding_drop: volts lost in the windings at full load over nominal [1], scalar.

    Returns:
        Volts over nominal [1], shape (N,).

    Valid: load up to full.
    Source: a regulator holds nominal as long as the field can give it; sizes: judgement.
    """
    there = np.clip(possible - winding_drop * load, 0.0, None)
    held = np.minimum(there, 1.0)
    return held + over * (there - held)


def capacitor_share(
    speed_share: FloatArray, capacitance: FloatArray, stator_turns: FloatArray, load: float, winding_drop: float
) -> FloatArray:
    """Volts of a capacitor-excited set over nominal volts, once it has built up.

    Args:
        speed_share: speed over rated [1], shape (N,).
        capacitance: capacitor over its printed value [1], shape (N,).
        stator_turns: live turns over all [1], shape (N,).
        load: share of the full load [1], scalar.
        winding_drop: volts lost from no load to full load over nominal [1], scalar.

    Returns:
        Volts over nominal [1], shape (N,).

    Valid: speeds near rated.
    Source: excitation goes with capacitance and frequency squared; saturation makes volts follow weakly: judgement.
    """
    excitation = np.clip(capacitance * speed_share**2, 1e-6, None)
    excites = step_up(excitation, constants.value("capacitor_least"), constants.value("capacitor_width"))
    level = constants.value("capacitor_high") * speed_share * excitation ** constants.value("capacitor_power")
    return excites * stator_turns * np.clip(level - winding_drop * load, 0.0, None)


def winding_ohm(sound_ohm: float, turns: FloatArray, opened: FloatArray) -> FloatArray:
    """A winding on an ohmmeter.

    Args:
        sound_ohm: resistance of a sound one [ohm], scalar.
        turns: live turns over all [1], shape (N,).
        opened: 0 sound to 1 open [1], shape (N,).

    Returns:
        Resistance [ohm], shape (N,); a million is open.

    Valid: cold.
    Source: resistance goes with the length of wire (textbook).
    """
    return sound_ohm * turns * (constants.value("open_ohm") / sound_ohm) ** np.clip(opened, 0.0, 1.0)

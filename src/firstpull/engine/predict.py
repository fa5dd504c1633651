"""The way into the virtual engine: what these machines would show in an arrangement."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

import firstpull.engine.wiring  # noqa: F401  registers the rules
from firstpull.base.errors import FirstpullError
from firstpull.engine.machine import Machine
from firstpull.engine.vocabulary import OBSERVABLES
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup

FloatArray = NDArray[np.float64]


def predict(
    params: Mapping[str, FloatArray],
    sizes: Mapping[str, float | str],
    conditions: Conditions,
    arrangement: Arrangement,
    setup: Setup,
    which: Sequence[str],
) -> dict[str, FloatArray]:
    """What each machine would show, without instrument noise.

    Args:
        params: values by parameter id [unit of each parameter], shape (N,) each.
        sizes: sizes and traits of the machine class by id [unit of each size], scalar each.
        conditions: the day at the bench [m, C], scalar.
        arrangement: what is off, added, spinning, warm, choked, loaded [1], scalar.
        setup: how the instrument is set up [unit of each], scalar.
        which: observable ids [1], scalar each.

    Returns:
        Values by observable id [unit of each observable], shape (N,) each; NaN where the machine would have to
        run or turn and would not.

    Raises:
        FirstpullError: unknown observable, or parameter arrays of different lengths.

    Valid: parameters within the bounds that the vocabulary gives.
    Source: the physics files; this function only joins them.
    """
    lengths = {len(values) for values in params.values()}
    if len(lengths) > 1:
        raise FirstpullError(f"parameter arrays of lengths {sorted(lengths)}", "engine", "one length for all")
    unknown = [name for name in which if name not in OBSERVABLES]
    if unknown:
        raise FirstpullError(f"unknown observable {unknown}", "engine", "one of the engine vocabulary")
    machine = Machine(params, sizes, conditions, arrangement, setup, lengths.pop() if lengths else 1)
    return {name: shown(machine, name) for name in which}


def shown(machine: Machine, name: str) -> FloatArray:
    """What one observable would show on these machines: NaN where they would have to run or turn and would not.

    Args:
        machine: the machines in their arrangement [1], scalar.
        name: observable id [1], scalar.

    Returns:
        Values [unit of the observable], shape (N,).

    Valid: any registered observable.
    Source: definition.
    """
    entry = OBSERVABLES[name]
    value = machine.quantity(name)
    if entry.running:
        return np.where(machine.quantity("would_run") > 0.5, value, np.nan)
    if entry.brisk:
        value = np.where(machine.quantity("brisk") > 0.5, value, np.nan)
    if entry.turning:
        return np.where(machine.quantity("turns") > 0.5, value, np.nan)
    return value


def needed(
    sizes: Mapping[str, float | str], arrangement: Arrangement, which: Sequence[str]
) -> tuple[frozenset[str], frozenset[str]]:
    """The parameters and the tokens that these observables depend on in this arrangement, found by asking once.

    Args:
        sizes: sizes and traits of the class by id [unit of each], scalar each.
        arrangement: the arrangement [1], scalar.
        which: observable ids [1], scalar each.

    Returns:
        Parameter ids and token ids [1], scalar sets. Arrangements that agree in those tokens (and in drive, warmth,
        choke and load) give the same values.

    Valid: rules ask for their parameters whatever the values are (vectorised code has no branches on values).
    Source: measured by us, by tracing.
    """
    machine = Machine({}, sizes, Conditions(), arrangement, Setup(), 2)
    for name in which:
        shown(machine, name)
    return frozenset(machine.used), frozenset(machine.asked)

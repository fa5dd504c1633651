"""Healthy walk mowers to lay faults on, and the arrangements in which they are tried."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from firstpull.base.draws import stratified
from firstpull.base.spread import Spread
from firstpull.engine.predict import predict
from firstpull.engine.vocabulary import PARAMETERS
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Drive, Setup, Thermal

FloatArray = NDArray[np.float64]
COUNT = 1500
HEALTHY: dict[str, FloatArray] = {
    name: parameter.healthy.quantile(stratified(("healthy mowers", name), COUNT))
    for name, parameter in PARAMETERS.items()
}
HELD = frozenset({"control-held"})
AT_TESTER = Arrangement(added=HELD | {"tester-on-lead"}, drive="rope")
LEAD_OFF = replace(AT_TESTER, off=frozenset({"stop-lead"}))
PULLED = Arrangement(added=HELD, drive="rope")
RUNNING = Arrangement(added=HELD, drive="running")


def with_fault(**draws: Spread | float) -> dict[str, FloatArray]:
    """The mowers with these parameters redrawn."""
    values = dict(HEALTHY)
    for name, drawn in draws.items():
        spread = drawn if isinstance(drawn, Spread) else Spread("fixed", float(drawn))
        values[name] = spread.quantile(stratified(("fault", name), COUNT), HEALTHY[name])
    return values


def shown(
    what: str,
    params: dict[str, FloatArray] | None = None,
    arrangement: Arrangement = PULLED,
    sizes: dict[str, float | str] | None = None,
    conditions: Conditions | None = None,
    setup: Setup | None = None,
) -> FloatArray:
    """One observable of these mowers."""
    mowers = HEALTHY if params is None else params
    return predict(mowers, sizes or {}, conditions or Conditions(), arrangement, setup or Setup(), [what])[what]


def lit(params: dict[str, FloatArray] | None = None, arrangement: Arrangement = AT_TESTER) -> float:
    """Share of them that light the tester; what does not turn stays dark."""
    return float((np.nan_to_num(shown("tester_margin", params, arrangement)) > 1.0).mean())


def by(drive: Drive, arrangement: Arrangement = AT_TESTER) -> Arrangement:
    """The same arrangement spun by something else."""
    return replace(arrangement, drive=drive)


def warm(arrangement: Arrangement, thermal: Thermal = "hot") -> Arrangement:
    """The same arrangement on a hot machine."""
    return replace(arrangement, thermal=thermal)

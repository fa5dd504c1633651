"""Stop circuit: the stop lead, the operator's switch and its cable, the low-oil switch, the interlocks.

F012 stop_lead_ohm (and stop_lead_chafe for the eye) · F013 stop_switch_open_ohm low, or control_open_travel low ·
F014 stop_switch_closed_ohm high, or control_return low, or stop_lead_series_ohm high · F015 low_oil_full_ohm low
(false trip), low_oil_dry_ohm high (does not protect) · F016 interlock_run_ohm low (no spark), interlock_stop_ohm high
(does not stop), interlock_start_ohm high (no crank) · handle not held at the test control_slips.

K07 stop_switch_ohm, with the hand control_open_travel, control_return · K09 tester_margin with and without the stop
lead · proof after stop-circuit work stop_tab_ohm (control-held or not) and stop_tab_released_ohm · K19
interlock_run_ohm, interlock_stop_ohm, interlock_start_ohm · K20 low_oil_ohm (oil on or off), tester_margin with
low-oil-lead off · K72 (does the engine stop) stops_on_release, complaint will-not-stop will_not_stop.
"""

from __future__ import annotations

from firstpull.base.spread import Spread
from firstpull.engine.vocabulary.types import Observable, Parameter, Size

_S = "stop-circuit"
_J = "judgement"
_OPEN = 1e12


def _p(id: str, unit: str, low: float, high: float, healthy: Spread, meaning: str) -> Parameter:
    return Parameter(id, unit, low, high, healthy, _S, meaning, _J)


PARAMETERS: tuple[Parameter, ...] = (
    _p("stop_lead_ohm", "ohm", 0.01, _OPEN, Spread("log-normal", 1e8, 0.8), "leak from stop lead to frame"),
    _p("stop_lead_chafe", "1", 0.0, 1.0, Spread("fixed", 0.0), "stop lead chafed or pinched, as seen"),
    _p("stop_lead_series_ohm", "ohm", 0.0, _OPEN, Spread("log-normal", 0.08, 0.4),
       "along the stop lead; high = broken"),
    _p("stop_switch_closed_ohm", "ohm", 0.0, _OPEN, Spread("log-normal", 0.12, 0.5),
       "switch contact when it should stop"),
    _p("stop_switch_open_ohm", "ohm", 0.01, _OPEN, Spread("log-normal", 1e9, 0.8), "switch contact when it should run"),
    _p("control_open_travel", "1", 0.0, 1.5, Spread("normal", 1.0, 0.05),
       "travel at the switch with the control held over what it needs (opens above 0.6)"),
    _p("control_return", "1", 0.0, 1.0, Spread("normal", 0.98, 0.02, high=1.0),
       "how far the switch comes back when let go (closes above 0.5)"),
    _p("control_slips", "1", 0.0, 1.0, Spread("fixed", 0.0), "control thought held was not (1)"),
    _p("low_oil_full_ohm", "ohm", 0.01, _OPEN, Spread("log-normal", 1e9, 0.8), "low-oil switch at full oil"),
    _p("low_oil_dry_ohm", "ohm", 0.01, _OPEN, Spread("log-normal", 0.3, 0.5), "low-oil switch with the oil low"),
    _p("interlock_run_ohm", "ohm", 0.01, _OPEN, Spread("log-normal", 1e9, 0.8),
       "interlock chain to frame with everything in its run place"),
    _p("interlock_stop_ohm", "ohm", 0.01, _OPEN, Spread("log-normal", 0.3, 0.5),
       "interlock chain to frame with the operator gone"),
    _p("interlock_start_ohm", "ohm", 0.0, _OPEN, Spread("log-normal", 0.1, 0.5),
       "interlock chain in the starter circuit with everything in its start place"),
)

OBSERVABLES: tuple[Observable, ...] = (
    Observable("stop_tab_ohm", "ohm",
               "meter from stop tab end of the lead to frame, control as arranged; with the lead "
               "still on the coil the primary lies across it"),
    Observable("stop_tab_released_ohm", "ohm", "the same with the control let go, or the switch put to stop"),
    Observable("stop_switch_ohm", "ohm", "meter across the operator's switch alone, control as arranged"),
    Observable("low_oil_ohm", "ohm", "meter from the low-oil lead to frame, oil as arranged"),
    Observable("interlock_run_ohm", "ohm", "interlock chain to frame, everything in its run place"),
    Observable("interlock_stop_ohm", "ohm", "interlock chain to frame, operator gone"),
    Observable("interlock_start_ohm", "ohm", "interlock chain of the starter circuit"),
    Observable("stops_on_release", "1", "chance that letting go (or switching off) kills the spark at running speed",
               running=True),
    Observable("will_not_stop", "1", "how surely a customer finds that letting go does not stop it", running=True),
    Observable("low_oil_cuts", "1", "how far the low-oil switch kills the spark as the oil stands now (1 = kills)"),
)

SIZES: tuple[Size, ...] = (
    Size("operator_presence", "1", "control that must be held for it to run", "yes", ("yes", "no")),
    Size("low_oil_switch", "1", "has a low-oil switch on the stop circuit", "no", ("yes", "no")),
    Size("interlocks", "1", "has seat or drive interlocks on the stop circuit", "no", ("yes", "no")),
)

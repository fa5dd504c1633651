"""Constants of the exhaust."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "exhaust_port_resistance": Constant(0.4, "1", "judgement: share of the clean resistance"),
    "exhaust_screen_resistance": Constant(0.15, "1", "judgement: share of the clean resistance"),
    "exhaust_pulse_factor": Constant(2.2, "1", "judgement: pulsed flow over steady flow, squared"),
    "exhaust_delivered": Constant(0.85, "1", "judgement: charge over swept volume, four-stroke"),
    "exhaust_delivered_ported": Constant(0.55, "1", "judgement: charge over swept volume, crankcase scavenged"),
    "exhaust_residual": Constant(0.08, "1", "judgement: burnt gas in a clean charge"),
    "exhaust_bark_share": Constant(0.4, "1", "judgement: leak that half the ears call loud"),
    "exhaust_bark_width": Constant(0.07, "1", "judgement"),
}

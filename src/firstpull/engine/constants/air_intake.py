"""Constants of the way of the air."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "filter_drop_pa": Constant(300.0, "Pa", "judgement: suction behind a clean filter element at full air flow"),
    "filter_clog_power": Constant(0.96, "1", "judgement: how sharply suction rises as a filter closes"),
    "oil_clog_share": Constant(0.55, "1", "judgement: share of the element that soaking with oil or water closes"),
    "full_air_pa": Constant(
        9000.0, "Pa", "judgement: pressure that carries full air flow through carburettor and port"
    ),
    "bubble_mm2": Constant(0.5, "mm2", "judgement: leak that shows plain bubbles"),
    "bubble_width": Constant(0.5, "1", "judgement: spread of its logarithm"),
    "loose_leak_mm2": Constant(4.0, "mm2", "judgement: leak of a carburettor that is loose to the hand"),
    "crack_leak_mm2": Constant(3.0, "mm2", "judgement: leak of a crack that can be seen"),
}

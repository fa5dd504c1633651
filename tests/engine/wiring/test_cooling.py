"""Head temperature of a running machine."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from firstpull.engine.predict import predict
from firstpull.engine.vocabulary.types import Conditions, Setup
from tests.engine.cylinders import AT_WORK, population, shown


def test_healthy_heads_settle_where_air_cooled_engines_do() -> None:
    # Common practice, no source: about 120-230 C by infra-red at work, flagged above 260 C.
    heads = predict(population(600), {}, Conditions(), AT_WORK, Setup(), ["head_c"])["head_c"]
    assert np.nanpercentile(heads, 5) > 120.0
    assert np.nanpercentile(heads, 95) < 240.0


@pytest.mark.parametrize(("parameter", "value"), [
    ("fin_blockage", 0.8), ("air_screen_blockage", 0.85), ("cooling_shroud_missing", 1.0), ("fan_vanes_lost", 0.6),
    ("key_offset_deg", -25.0), ("oil_level_mm", -35.0), ("main_jet_open", 0.8),
])  # fmt: skip
def test_each_of_these_heats_the_head(parameter: str, value: float) -> None:
    assert shown("head_c", AT_WORK, {parameter: value})[0] > shown("head_c", AT_WORK)[0] + 5.0


def test_packed_fins_smell_and_fade() -> None:
    packed = {"fin_blockage": 0.85}
    full = replace(AT_WORK, load="full")
    assert shown("hot_smell", full, packed)[0] > 0.8 > 0.1 > shown("hot_smell", full)[0]
    assert shown("heat_fade", full, packed)[0] > 0.2 > 0.05 > shown("heat_fade", full)[0]


def test_the_first_minute_tells_little() -> None:
    packed = {"fin_blockage": [0.1, 0.8]}
    cold = shown("head_c", replace(AT_WORK, thermal="cold"), packed)
    hot = shown("head_c", AT_WORK, packed)
    assert cold[1] - cold[0] < 0.4 * (hot[1] - hot[0])


def test_load_and_a_warm_day_add_up() -> None:
    idle = shown("head_c", replace(AT_WORK, load="none"))[0]
    assert idle < shown("head_c", AT_WORK)[0] < shown("head_c", replace(AT_WORK, load="full"))[0]
    warm = shown("head_c", AT_WORK, conditions=Conditions(air_c=35.0))[0]
    assert warm > shown("head_c", AT_WORK)[0] + 10.0


def test_packed_fins_take_longer_to_settle() -> None:
    times = shown("head_settle_min", AT_WORK, {"fin_blockage": [0.0, 0.8]})
    assert 8.0 < times[0] < times[1]

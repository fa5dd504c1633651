"""Oil: film, burning and being noticed."""

from __future__ import annotations

import numpy as np
import pytest

from firstpull.engine import lubrication


def burnt(
    ring: float = 0.12, guide: float = 0.05, gallery: float = 0.0, pressure: float = -2.0, level: float = 0.0
) -> float:
    one = np.ones(1)
    return float(lubrication.burnt_ml_min(
        one * ring, one * guide, one * gallery, one * pressure, one * level, one, 160e-6)[0])  # fmt: skip


def test_half_of_the_people_notice_the_half_size() -> None:
    assert lubrication.chance(np.array([3.0]), 3.0, 0.5)[0] == 0.5
    assert lubrication.chance(np.array([-1e9, 1e9]), 3.0, 0.5) == pytest.approx([0.0, 1.0], abs=1e-12)


def test_a_tenth_of_fuel_thins_the_oil_by_a_quarter() -> None:
    # Arrhenius mixing: 20 to the power 0.1 is 1.35.
    assert lubrication.viscosity_share(np.ones(1), np.full(1, 0.1), np.zeros(1))[0] == pytest.approx(1 / 1.35, rel=0.01)


def test_thin_oil_low_oil_and_play_each_take_the_film() -> None:
    def film(viscosity: float = 1.0, level: float = 0.0, play: float = 0.04) -> float:
        return float(lubrication.film_share(np.full(1, viscosity), np.full(1, level), np.full(1, play))[0])

    assert film() > 0.95
    for worse in (film(viscosity=0.3), film(level=-35.0), film(play=0.6)):
        assert worse < 0.7 * film()


@pytest.mark.parametrize("cause", [{"ring": 1.5}, {"guide": 0.3}, {"gallery": 1.5}, {"pressure": 3.0}, {"level": 15.0}])
def test_each_way_into_the_chamber_burns_more_oil(cause: dict[str, float]) -> None:
    assert burnt(**cause) > 2.0 * burnt()


def test_a_sound_engine_burns_a_few_millilitres_an_hour() -> None:
    assert 1.0 < burnt() * 60.0 < 6.0

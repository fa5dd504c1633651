"""Numbers in words."""

from __future__ import annotations

import pytest

from firstpull.handbook.entries import Draw, Spec
from firstpull.handbook.pages.wording import amount, band, drawn, minutes, only_for, percent, range_of


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (0.25, "mm", "0.25 mm"),
        (3400.0, "rpm", "3,400 rpm"),
        (1e12, "ohm", "1e+12 ohm"),
        (2, "1", "2"),
        (-0.5, "C", "-0.5 C"),
    ],
)
def test_an_amount_is_told_with_its_unit(value: float, unit: str, words: str) -> None:
    assert amount(value, unit) == words


def test_a_band_is_told_from_its_lower_end_to_below_its_upper() -> None:
    assert band(None, 1, "mm") == "below 1 mm"
    assert band(1, 2, "mm") == "from 1 mm to below 2 mm"
    assert band(2, None, "mm") == "2 mm and more"
    assert band(None, None, "mm") == "anything"


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (None, None, "no figure held"),
        (1, None, "at least 1 mm"),
        (None, 3, "at most 3 mm"),
        (1, 3, "1 to 3 mm"),
        (None, 0.0, "at most 0 mm"),
    ],
)
def test_a_range_is_told_as_a_mechanic_reads_it(low: float | None, high: float | None, words: str) -> None:
    spec = Spec(id="a", name="a", unit="mm", low=low, high=high, standing="judgement", source="judgement")
    assert range_of(spec) == words


FORMS = [
    ({"form": "fixed", "value": 0.0}, "always 0 mm"),
    ({"form": "choice", "values": (1, 2)}, "one of 1 mm, 2 mm"),
    ({"form": "uniform", "low": 1, "high": 2}, "1 to 2 mm, evenly"),
    ({"form": "log-uniform", "low": 1, "high": 2}, "1 to 2 mm, evenly by ratio"),
    ({"form": "normal", "mean": 1, "sd": 0.1}, "about 1 mm, give or take 0.1 mm"),
    ({"form": "log-normal", "median": 2, "sigma": 0.6931471805599453}, "about 2 mm, times or divided by 2"),
    ({"form": "shift", "low": 1, "high": 2}, "what it was plus 1 to 2 mm"),
    ({"form": "scale", "low": 1, "high": 2}, "what it was times 1 to 2"),
]


@pytest.mark.parametrize(("given", "words"), FORMS, ids=[words for _, words in FORMS])
def test_every_form_of_a_draw_has_its_words(given: dict[str, object], words: str) -> None:
    assert drawn(Draw.model_validate({"parameter": "x", **given}), "mm") == words


def test_minutes_shares_and_traits_are_told_in_words() -> None:
    assert minutes(3) == "3 min"
    assert minutes(3, 10) == "3 min, and 10 min of waiting"
    assert percent(0.985) == "98.5 %"
    assert only_for({"rope_in_cover": ("yes",), "cycle": ("a", "b")}) == "rope in cover: yes; cycle: a or b"

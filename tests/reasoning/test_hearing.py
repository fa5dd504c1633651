"""Chances of what is reported: they sum to one, follow the normal law, and do not depend on the unit."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from firstpull.handbook.entries import Instrument, Outcome, Reading
from firstpull.reasoning.hearing import (
    ASKED_AGAIN,
    LEAST_TRIES,
    SLIP_IMPOSSIBLE,
    SLIP_POSSIBLE,
    Ear,
    coded,
    decoded,
    deviation,
    ear,
    in_unit,
    number_chance,
    report_chances,
    seen_chance,
    word_chances,
)
from tests.reasoning.handbook import bands


def reading(edges: dict[str, float | None], **given: object) -> Reading:
    outcomes = tuple(Outcome.model_validate(b) for b in bands(edges))
    usual: dict[str, object] = {"model": "gauge", "reads": "x", "unit": "mm", "outcomes": outcomes}
    return Reading.model_validate(usual | given)


def instrument(**given: object) -> Instrument:
    usual: dict[str, object] = {"id": "x", "name": "x", "source": "judgement", "unit": "mm", "blunder": 0.02}
    return Instrument.model_validate(usual | given)


GAP = ear(reading({"tight": 0.15, "right": 0.4, "wide": None}, number=True), instrument(noise=0.02, resolution=0.01))
OHMS = ear(
    reading({"makes": 1.0, "leaks": 1e4, "open": None}, unit="ohm", scale="log", scatter=0.3),
    instrument(unit="ohm", noise=0.1, relative=0.02),
)
STARE = ear(reading({"whole": 0.3, "worn": None}, model="eye-and-hand", scatter=0.1, false_alarm=0.05), instrument())
EARS = {"gap": GAP, "ohms": OHMS, "stare": STARE, "thrice": ear(reading({"dark": 1.0, "lit": None}, scatter=0.2),
                                                               instrument(), tries=3)}
VALUES = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True), st.floats(-10, 10), st.sampled_from([0.0, 0.15, 0.4, 1.0, 1e4])
)


@given(st.sampled_from(sorted(EARS)), st.lists(VALUES, min_size=1, max_size=6), st.sampled_from([None, 1, 2, 3, 20]))
def test_all_reports_of_any_machine_sum_to_one(name: str, values: list[float], times: int | None) -> None:
    chances = report_chances(EARS[name], np.array(values), times)
    assert np.all(chances >= 0)
    assert np.allclose(chances.sum(axis=1), 1.0, atol=1e-12, rtol=0)


@given(st.sampled_from(sorted(EARS)), VALUES)
def test_the_words_of_one_try_sum_to_one(name: str, value: float) -> None:
    assert word_chances(EARS[name], np.array([value])).sum() == pytest.approx(1.0, abs=1e-12)


def test_what_cannot_be_read_is_reported_as_not_possible() -> None:
    chances = report_chances(GAP, np.array([np.nan, 0.2]))
    assert chances[0, -1] == pytest.approx(1 - SLIP_IMPOSSIBLE)
    assert chances[1, -1] == pytest.approx(SLIP_POSSIBLE)


def test_an_endless_value_is_heard_as_the_last_word_and_its_negative_as_the_first() -> None:
    assert word_chances(GAP, np.array([np.inf]))[0, 2] == pytest.approx(0.98 + 0.02 / 3)
    assert word_chances(GAP, np.array([-np.inf]))[0, 0] == pytest.approx(0.98 + 0.02 / 3)
    assert word_chances(OHMS, np.array([np.inf]))[0, 2] == pytest.approx(0.98 + 0.02 / 3)


def test_nothing_at_all_on_a_scale_of_ratios_is_the_lowest_word() -> None:
    chances = word_chances(OHMS, np.array([0.0, -3.0]))
    assert chances[:, 0] == pytest.approx(0.98 + 0.02 / 3)


def test_an_edge_at_zero_on_a_scale_of_ratios_has_nothing_below_it() -> None:
    at_zero = Ear(((-np.inf, 0.0), (0.0, 5.0), (5.0, np.inf)), ("none", "some", "much"), "ohm", True, 0.2, 0.1, 0.0,
                  0.0, 0.0, 1, False, 1.0)
    chances = word_chances(at_zero, np.array([0.0, 1.0, 50.0]))
    assert chances.sum(axis=1) == pytest.approx(1.0)
    assert chances[:, 0] == pytest.approx(0.0, abs=1e-12)


def test_words_on_a_linear_scale_follow_the_normal_law() -> None:
    values = np.linspace(0.0, 0.8, 17)
    sd = np.sqrt(0.02**2 + 0.01**2 / 12)
    right = stats.norm.cdf(0.4, values, sd) - stats.norm.cdf(0.15, values, sd)
    assert word_chances(GAP, values)[:, 1] == pytest.approx(0.98 * right + 0.02 / 3, abs=1e-12)


def test_words_on_a_scale_of_ratios_follow_the_log_normal_law() -> None:
    values = np.geomspace(10.0, 1e7, 13)
    width = np.sqrt(0.3**2 + 0.02**2 + (0.1 / 1e4) ** 2)
    open_ = 1 - stats.lognorm.cdf(1e4, width, scale=values)
    assert word_chances(OHMS, values)[:, 2] == pytest.approx(0.98 * open_ + 0.02 / 3, abs=1e-9)


def test_a_number_follows_the_normal_density_with_a_share_of_slips() -> None:
    values = np.array([0.1, 0.25, 0.4])
    sd = np.sqrt(0.02**2 + 0.01**2 / 12 + 0.03**2)
    density = stats.norm.pdf(0.27, values, sd)
    expected = (1 - SLIP_POSSIBLE) * (0.98 * density * GAP.span + 0.02)
    assert number_chance(GAP, values, 0.27, spread=0.03) == pytest.approx(expected, rel=1e-12)


def test_all_numbers_within_the_span_of_slips_have_one_chance_together() -> None:
    lowest, highest = 0.25 - GAP.span / 2, 0.25 + GAP.span / 2
    total, _ = integrate.quad(lambda x: float(number_chance(GAP, np.array([0.25]), x)[0]), lowest, highest,
                              points=[0.2, 0.25, 0.3], epsabs=1e-10)
    assert total / GAP.span == pytest.approx(1 - SLIP_POSSIBLE, abs=1e-9)


def test_a_number_on_a_scale_of_ratios_agrees_with_its_words() -> None:
    """Adding up the numbers of a band gives the chance of its word."""
    heard = ear(reading({"low": 10.0, "high": None}, unit="ohm", scale="log", scatter=0.4, number=True),
                instrument(unit="ohm", blunder=0.0))
    for value in (5.0, 10.0, 30.0):
        below, _ = integrate.quad(lambda x, v=value: float(number_chance(heard, np.array([v]), np.exp(x))[0]),
                                  np.log(1e-3), np.log(10.0))
        word = word_chances(heard, np.array([value]))[0, 0]
        assert below / heard.span / (1 - SLIP_POSSIBLE) == pytest.approx(word, abs=1e-6)


def test_a_meter_that_shows_nothing_says_a_small_resistance_and_not_a_large_one() -> None:
    chance = number_chance(OHMS, np.array([0.0, 0.05, 10.0, 1e8]), 0.0)
    assert chance[0] == pytest.approx(chance[1], rel=0.3)
    assert chance[2] == pytest.approx(chance[3], rel=0.05)
    assert chance[1] > 50 * chance[2]


@given(VALUES, st.floats(-1e6, 1e6), st.sampled_from(["gap", "ohms"]))
def test_the_chance_of_a_number_is_never_negative_nor_missing(value: float, number: float, name: str) -> None:
    chance = number_chance(EARS[name], np.array([value]), number)
    assert np.isfinite(chance).all()
    assert (chance > 0).all()


def test_now_and_then_is_what_is_left_of_tries_that_all_agree() -> None:
    value = np.array([0.3, 1.0, 2.0])
    heard = EARS["thrice"]
    each = word_chances(heard, value)
    chances = report_chances(heard, value)
    can = 1 - SLIP_POSSIBLE
    assert chances[:, :2] == pytest.approx(each**3 * can)
    assert chances[:, 2] == pytest.approx((1 - (each**3).sum(axis=1)) * can)
    assert report_chances(heard, value, times=5)[:, :2] == pytest.approx(each**5 * can)


def test_a_single_look_seldom_gives_now_and_then() -> None:
    value = np.array([0.15, 0.25])
    each = word_chances(GAP, value)
    mixed = ASKED_AGAIN * (1 - (each**LEAST_TRIES).sum(axis=1)) * (1 - SLIP_POSSIBLE)
    assert report_chances(GAP, value)[:, 3] == pytest.approx(mixed)


def test_a_place_is_seen_half_the_time_at_its_edge_and_never_where_it_cannot_be() -> None:
    seen = seen_chance(STARE, 0.3, np.array([0.3, 5.0, 0.0, np.nan]))
    assert seen == pytest.approx([0.95 * 0.5 + 0.025, 0.95 + 0.025, 0.95 * stats.norm.cdf(-3) + 0.025, 0.025])


@given(st.floats(-5, 5), st.floats(0.01, 3))
def test_a_place_is_reported_the_more_the_more_there_is(value: float, more: float) -> None:
    low, high = seen_chance(STARE, 0.3, np.array([value, value + more]))
    assert high >= low


def test_the_unit_in_which_a_gauge_reads_changes_nothing() -> None:
    mm = ear(reading({"low": 0.3, "high": None}), instrument(noise=0.02, resolution=0.01, bias=0.03, unit="mm"))
    thou = ear(reading({"low": 0.3 / 0.0254, "high": None}, unit="thou"),
               instrument(noise=0.02, resolution=0.01, bias=0.03, unit="mm"))
    values = np.linspace(0.2, 0.4, 9)
    there = in_unit(values, "mm", "thou")
    assert word_chances(thou, there) == pytest.approx(word_chances(mm, values), abs=1e-9)
    assert thou.bias == pytest.approx(mm.bias / 0.0254)


def test_in_unit_knows_offsets_and_leaves_other_kinds_alone() -> None:
    assert in_unit(np.array([0.0, 100.0]), "C", "F_temp") == pytest.approx([32.0, 212.0])
    assert in_unit(np.array([3.0]), "ohm", "mm") == pytest.approx([3.0])


def test_contributions_to_the_spread_add_in_squares() -> None:
    heard = ear(reading({"low": 1.0, "high": None}, scatter=0.3), instrument(noise=0.4, relative=0.1, resolution=0.12))
    expected = np.sqrt(0.3**2 + 0.4**2 + (0.1 * 5.0) ** 2 + 0.12**2 / 12 + 0.2**2)
    assert deviation(heard, np.array([5.0]), spread=0.2) == pytest.approx(expected)


def test_an_eye_has_no_part_in_the_noise_of_an_instrument() -> None:
    heard = ear(reading({"low": 1.0, "high": None}, model="eye-and-hand", scatter=0.3, false_alarm=0.07),
                instrument(noise=0.4, relative=0.1, resolution=0.12, bias=0.5))
    assert (heard.absolute, heard.relative, heard.resolution, heard.bias, heard.blunder) == (0.3, 0, 0, 0, 0.07)


@given(st.lists(st.floats(0.0, 1.0), min_size=1, max_size=40))
def test_chances_that_are_kept_come_back_nearly_the_same(chances: list[float]) -> None:
    there = np.array(chances)
    assert decoded(coded(there)) == pytest.approx(there, abs=1e-5)
    assert decoded(coded(np.array([0.0, 1.0]))).tolist() == [0.0, 1.0]

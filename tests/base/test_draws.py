"""Stable draws."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base import draws

GOLDEN = [0.7367355358953662, 0.7898776233581761, 0.45709349922627346]
KEYS = st.lists(st.one_of(st.text(max_size=8), st.integers()), min_size=1, max_size=4).map(tuple)


def test_a_stream_gives_the_same_numbers_for_ever() -> None:
    first = draws.uniform(("mower", "healthy", "air_gap_mm", 1), 3)
    # Written down when the generator was chosen; a change would reshuffle every stored belief.
    np.testing.assert_array_equal(first, np.array(GOLDEN))


@given(key=KEYS, count=st.integers(1, 200))
def test_draws_lie_strictly_between_zero_and_one(key: tuple[object, ...], count: int) -> None:
    for made in (draws.uniform(key, count), draws.stratified(key, count)):
        assert made.shape == (count,)
        assert ((made > 0.0) & (made < 1.0)).all()


@given(key=KEYS, count=st.integers(1, 300))
def test_stratified_draws_put_exactly_one_in_every_stratum(key: tuple[object, ...], count: int) -> None:
    strata = np.floor(draws.stratified(key, count) * count).astype(int)
    assert sorted(strata.tolist()) == list(range(count))


@given(key=KEYS, count=st.integers(1, 100), more=st.integers(0, 100))
def test_a_longer_stream_begins_like_the_shorter_one(key: tuple[object, ...], count: int, more: int) -> None:
    np.testing.assert_array_equal(draws.uniform(key, count), draws.uniform(key, count + more)[:count])


def test_streams_of_different_names_do_not_follow_each_other() -> None:
    a, b = draws.uniform(("state", "a"), 20000), draws.uniform(("state", "b"), 20000)
    assert abs(float(np.corrcoef(a, b)[0, 1])) < 0.03


def test_names_are_kept_apart_where_they_touch() -> None:
    assert not np.array_equal(draws.uniform(("ab", "c"), 4), draws.uniform(("a", "bc"), 4))


def test_draws_are_even_over_the_whole_range() -> None:
    counts, _ = np.histogram(draws.uniform(("evenness",), 100_000), bins=50, range=(0.0, 1.0))
    # Chi-squared with 49 degrees of freedom: 99.99 % lie below 93.
    assert float((((counts - 2000.0) ** 2) / 2000.0).sum()) < 93.0


def test_a_stratified_mean_errs_far_less_than_an_independent_one() -> None:
    plain = np.array([draws.uniform(("mean", n), 256).mean() for n in range(60)])
    strata = np.array([draws.stratified(("mean", n), 256).mean() for n in range(60)])
    assert np.std(strata - 0.5) < 0.05 * np.std(plain - 0.5)

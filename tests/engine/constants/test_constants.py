"""The registry of constants."""

from __future__ import annotations

import threading

import pytest

from firstpull.base.errors import FirstpullError
from firstpull.engine import constants


def test_a_constant_reads_as_written_outside_any_shift() -> None:
    assert constants.value("coupling_loss") == constants.CONSTANTS["coupling_loss"].value


def test_a_shift_scales_only_what_it_names_and_only_inside() -> None:
    plain, other = constants.value("coupling_loss"), constants.value("lazy_share")
    with constants.shifted({"coupling_loss": 0.9}):
        assert constants.value("coupling_loss") == pytest.approx(0.9 * plain)
        assert constants.value("lazy_share") == other
    assert constants.value("coupling_loss") == plain


def test_an_inner_shift_replaces_the_outer_one_and_gives_it_back() -> None:
    plain = constants.value("coupling_loss")
    with constants.shifted({"coupling_loss": 0.5}):
        with constants.shifted({"lazy_share": 2.0}):
            assert constants.value("coupling_loss") == plain
        assert constants.value("coupling_loss") == pytest.approx(0.5 * plain)


def test_a_shift_is_undone_after_an_error() -> None:
    with pytest.raises(ZeroDivisionError), constants.shifted({"coupling_loss": 0.5}):
        1 // 0  # noqa: B018  the error is the point
    assert constants.value("coupling_loss") == constants.CONSTANTS["coupling_loss"].value


def test_another_thread_does_not_see_the_shift() -> None:
    seen: list[float] = []
    with constants.shifted({"coupling_loss": 0.5}):
        thread = threading.Thread(target=lambda: seen.append(constants.value("coupling_loss")))
        thread.start()
        thread.join()
    assert seen == [constants.CONSTANTS["coupling_loss"].value]


def test_unknown_names_are_refused() -> None:
    with pytest.raises(FirstpullError, match="unknown constant 'couplign'"):
        constants.value("couplign")
    with pytest.raises(FirstpullError, match="couplign"), constants.shifted({"couplign": 1.1}):
        pass


def test_every_constant_says_where_it_comes_from_and_in_what_unit() -> None:
    for name, constant in constants.CONSTANTS.items():
        assert constant.source.strip(), name
        assert constant.unit.strip(), name


def test_guesses_are_listed_and_published_figures_are_not() -> None:
    guessed = constants.guessed()
    assert "lazy_share" in guessed
    assert "breakdown_per_cm_kv" not in guessed
    assert set(guessed) <= set(constants.CONSTANTS)

"""Values against the specification, with the spread of what they were read with."""

from __future__ import annotations

import pytest

from firstpull import paper
from firstpull.bench.find import set_value
from firstpull.bench.paperwork.file import job_file
from firstpull.bench.paperwork.measured import in_words, measured
from firstpull.bench.shop import Shop
from firstpull.handbook.entries import Spec
from tests.bench.coil_job import how, put, taken_in


def rows(shop: Shop, job: str) -> dict[str, paper.Measured]:
    return {m.what: m for m in measured(job_file(shop, job))}


def gap(shop: Shop, value: str) -> paper.Measured:
    job = taken_in(shop)
    put(shop, job, {"repair": "renew-coil"})
    set_value(shop, job, "air-gap", value, "mm", **how(shop, job))
    return rows(shop, job)["Coil gap"]


@pytest.mark.parametrize(
    ("value", "verdict"), [("0.27", "proved"), ("0.15", "undecided"), ("0.41", "undecided"), ("0.9", "failed")]
)
def test_a_value_is_judged_with_the_feeler_s_own_spread(shop: Shop, value: str, verdict: str) -> None:
    assert gap(shop, value).verdict == verdict


def test_the_row_shows_value_spread_specification_and_its_standing(shop: Shop) -> None:
    row = gap(shop, "0.27")
    assert row.value is not None
    assert row.value.startswith("0.27 mm, give or take 0.0")
    assert row.specification == "0.15 to 0.4 mm (common practice)"


def test_the_last_value_of_a_name_counts(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, {"repair": "renew-coil"})
    for value in ("0.9", "0.27"):
        set_value(shop, job, "air-gap", value, "mm", **how(shop, job))
    assert rows(shop, job)["Coil gap"].verdict == "proved"


def test_where_no_figure_is_held_none_is_invented(shop: Shop) -> None:
    job = taken_in(shop)
    set_value(shop, job, "deck-height", "55", "mm", **how(shop, job))
    row = rows(shop, job)["deck-height"]
    assert (row.verdict, row.word) == ("undecided", "No figure held")
    assert row.specification == "no figure held; the maker's rules"


def test_a_bad_figure_from_before_the_mend_says_nothing_about_how_it_leaves(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, {"check": "coil-gap", "reading": "1.2 mm"})
    (before,) = rows(shop, job).values()
    assert before.verdict == "failed"
    put(shop, job, {"repair": "set-coil-gap"})
    (row,) = rows(shop, job).values()
    assert (row.verdict, row.word) == ("to-do", "Before the mend")


def test_words_are_no_measurement_and_odd_values_are_left_out(shop: Shop) -> None:
    job = taken_in(shop)
    put(shop, job, {"check": "spark-at-tester", "reading": "dark"})
    shop.do(job, "value", {"name": "air-gap", "value": "tight"}, **how(shop, job))
    assert rows(shop, job) == {}


def test_a_value_on_a_machine_of_unknown_kind_is_shown_and_judged_by_nothing(shop: Shop) -> None:
    job = taken_in(shop, machine="")
    shop.do(job, "value", {"name": "air-gap", "value": 0.27, "unit": "mm"}, **how(shop, job))
    row = rows(shop, job)["air-gap"]
    assert (row.value, row.specification, row.verdict) == ("0.27 mm", None, "undecided")


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [(1.0, 2.0, "1 to 2 s (standard)"), (None, 3.0, "3 s at most (standard)"), (1.0, None, "1 s at least (standard)"),
     (None, None, "no figure held; the maker's rules")],
)
def test_a_specification_in_words(low: float | None, high: float | None, words: str) -> None:
    spec = Spec(id="x", name="X", unit="s", low=low, high=high, standing="standard", source="a test")
    assert in_words(spec) == words

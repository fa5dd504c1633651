"""Bands and readings that cannot be read, one by one."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Refusal = Callable[..., str]
BANDS = """outcomes = [
  { id = "dark", name = "dark", below = 1, also = ["no spark"] },
  { id = "lights", name = "lights every pull", from = 1 },
]"""
SCATTER = "scatter = 0.1\n"
PROOF = ('outcomes = ["lights"]', 'outcomes = ["a"]')


def bands(*outcomes: str) -> tuple[str, str]:
    return BANDS, "outcomes = [" + ", ".join("{ name = 'x', " + outcome + " }" for outcome in outcomes) + "]"


def several(*outcomes: str) -> tuple[tuple[str, str], ...]:
    reads = ('reads = "tester_margin"\nscatter = 0.1\n', "several = true\n")
    return reads, bands(*outcomes), PROOF


ONE_LINE = [
    ("two of one name", ["id='a', below=1", "id='a', from=1"], "two outcomes are named 'a' (one id, one outcome)"),
    ("an outcome that reads", ["id='a', below=1, reads='kick'", "id='b', from=1"], "an outcome reads for itself"),
    ("no border", ["id='a', below=1", "id='b'"], "no border between 'a' and 'b'"),
    (
        "not above its start",
        ["id='a', below=1", "id='b', from=1, below=1", "id='c', from=1"],
        "'b' runs from 1 to below 1 (the smaller number first, lower bands first)",
    ),
]


@pytest.mark.parametrize(("outcomes", "found"), [row[1:] for row in ONE_LINE], ids=[str(row[0]) for row in ONE_LINE])
def test_bands_on_one_line_are_refused_when(refusal: Refusal, outcomes: list[str], found: str) -> None:
    assert found in refusal(bands(*outcomes), PROOF)


def test_a_scale_of_ratios_has_no_band_at_zero(refusal: Refusal) -> None:
    said = refusal(bands("id='a', below=0", "id='b', from=0"), PROOF, (SCATTER, SCATTER + 'scale = "log"\n'))
    assert 'at or below zero, which has no logarithm (scale = "linear")' in said


def test_two_readings_of_one_check_have_two_keys(refusal: Refusal) -> None:
    gauge = 'model = "gauge"\n'
    eye = '[[check.reading]]\nkey = "a"\nmodel = "eye-and-hand"\nreads = "stop_lead_chafe"\n'
    eye += "outcomes = [{ id = 'x', name = 'x' }]\n"
    said = refusal((gauge, gauge + 'key = "a"\n'), ('[[check]]\nid = "look', eye + '[[check]]\nid = "look'))
    assert "two readings have the key 'a' (one key, one reading)" in said


MANY = [
    ("reading nothing", "id='a', from=1", "outcome 'a' reads nothing (its own reads and from)"),
    ("nowhere", "id='a', reads='tester_margin'", "outcome 'a' has no band"),
    ("unknown", "id='a', reads='tester_margn', from=1", "'tester_margn' is not an observable"),
]


@pytest.mark.parametrize(("outcome", "found"), [row[1:] for row in MANY], ids=[row[0] for row in MANY])
def test_where_several_may_be_heard_an_outcome_is_refused_when(refusal: Refusal, outcome: str, found: str) -> None:
    assert found in refusal(*several(outcome))


def test_where_several_may_be_heard_only_the_outcomes_read(refusal: Refusal) -> None:
    reads = ('reads = "tester_margin"\nscatter', 'reads = "tester_margin"\nseveral = true\nscatter')
    said = refusal(reads, bands("id='a', reads='tester_margin', from=1"), PROOF)
    assert "it reads, and so does each outcome (leave 'reads' out here)" in said


def test_a_complaint_runs_from_the_smaller_number_to_the_larger(refusal: Refusal) -> None:
    assert "it runs from 2 to below 1" in refusal(("below = 1\nheard", "from = 2\nbelow = 1\nheard"))
    assert "'tester_margn' is not an observable" in refusal(
        ('reads = "tester_margin"\nbelow', 'reads = "tester_margn"\nbelow')
    )

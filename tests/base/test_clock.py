"""The clock."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base.clock import moment, now, stamp

MOMENTS = st.datetimes(
    min_value=datetime(1970, 1, 2), max_value=datetime(2200, 1, 1),  # noqa: DTZ001  hypothesis wants naive bounds
    timezones=st.sampled_from([UTC, timezone(timedelta(hours=5, minutes=30)), timezone(timedelta(hours=-8))]),
)  # fmt: skip


def test_now_knows_its_zone() -> None:
    assert now().tzinfo is UTC


@given(when=MOMENTS)
def test_a_stamp_reads_back_as_the_same_moment_to_the_millisecond(when: datetime) -> None:
    assert abs(moment(stamp(when)) - when) < timedelta(milliseconds=1)


@given(a=MOMENTS, b=MOMENTS)
def test_stamps_sort_as_the_moments_do(a: datetime, b: datetime) -> None:
    if abs(a - b) >= timedelta(milliseconds=1):
        assert (stamp(a) < stamp(b)) == (a < b)


def test_a_stamp_is_short_and_in_universal_time() -> None:
    when = datetime(2026, 4, 5, 9, 7, 3, 250_000, tzinfo=timezone(timedelta(hours=2)))
    assert stamp(when) == "2026-04-05T07:07:03.250Z"


def test_what_is_no_stamp_is_refused() -> None:
    with pytest.raises(ValueError, match="Invalid isoformat"):
        moment("last Tuesday")

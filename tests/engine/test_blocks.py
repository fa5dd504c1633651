"""Long arrays in pieces."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from firstpull.engine.blocks import blocks


@given(st.integers(0, 100_000), st.integers(1, 20_000))
def test_pieces_cover_everything_once_in_order_and_are_nearly_equal(count: int, most: int) -> None:
    parts = blocks(count, most)
    assert [p.start for p in parts] + [count] == [0] + [p.stop for p in parts]
    lengths = [p.stop - p.start for p in parts]
    assert all(0 < length <= most for length in lengths)
    assert not lengths or max(lengths) - min(lengths) <= 1

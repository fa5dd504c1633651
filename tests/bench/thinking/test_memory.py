"""What a process holds is told, and falls when it lets go."""

from __future__ import annotations

import sys

import pytest

from firstpull.bench.thinking.memory import STATM, give_back, resident_bytes

pytestmark = pytest.mark.skipif(not STATM.exists(), reason="only Linux says what a process holds")


def test_what_is_held_grows_and_falls_with_what_is_in_use() -> None:
    before = resident_bytes()
    pieces = [bytes(bytearray(range(256)) * 40) for _ in range(5000)]  # too small for pages of their own
    held = resident_bytes()
    assert held - before > 0.8 * sum(map(sys.getsizeof, pieces))
    del pieces
    give_back()
    assert resident_bytes() < held - 20_000_000

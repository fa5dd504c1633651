"""What a process holds is told, and falls when it lets go."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from firstpull.bench.thinking.memory import STATM

pytestmark = pytest.mark.skipif(not STATM.exists(), reason="only Linux says what a process holds")

# In a process of its own: one that has run tests before has room to spare and need not grow.
WATCHED = """
import json, sys
from firstpull.bench.thinking.memory import give_back, resident_bytes
before = resident_bytes()
pieces = [bytes(bytearray(range(256)) * 40) for _ in range(5000)]  # too small for pages of their own
size, held = sum(map(sys.getsizeof, pieces)), resident_bytes()
del pieces
give_back()
print(json.dumps([before, size, held, resident_bytes()]))
"""


def test_what_is_held_grows_and_falls_with_what_is_in_use() -> None:
    ran = subprocess.run([sys.executable, "-c", WATCHED], capture_output=True, text=True, check=True)
    before, size, held, after = json.loads(ran.stdout)
    assert held - before > 0.8 * size
    assert after < held - 20_000_000

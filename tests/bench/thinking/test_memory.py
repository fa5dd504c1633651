"""What a process holds is told, and falls when it lets go."""

from __future__ import annotations

import gc
import json
import subprocess
import sys
from weakref import ref

import pytest

from firstpull.bench.thinking.memory import OFTEN, STATM, Sweeper, undisturbed

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


class Ring:
    """Something that only a search can find to be out of reach."""

    def __init__(self) -> None:
        self.me = self


def test_nothing_is_looked_through_in_the_middle_of_a_piece_of_work() -> None:
    ring = ref(Ring())
    with undisturbed():
        kept: list[list[int]] = [[] for _ in range(200_000)]
        assert ring() is not None
    assert gc.isenabled()
    assert len(kept) == 200_000
    Sweeper().sweep()
    assert ring() is None


def test_what_has_grown_old_is_found_after_many_pieces_of_work_or_while_there_is_none() -> None:
    for idle in (False, True):
        old, sweeper = Ring(), Sweeper()
        gc.collect()  # it has been looked at and is old now
        gone = ref(old)
        del old
        sweeper.sweep()
        assert gone() is not None
        for _ in range(1 if idle else OFTEN):
            sweeper.sweep(idle)
        assert gone() is None

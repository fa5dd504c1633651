"""How much memory this process holds, and giving back what it no longer uses. Where neither can be asked, nothing."""

from __future__ import annotations

import contextlib
import ctypes
import gc
import os
from collections.abc import Iterator
from pathlib import Path

OFTEN = 64  # pieces of work after which all that is held is looked through for what nobody can reach: judgement
STATM = Path("/proc/self/statm")


def resident_bytes() -> int:
    """The memory that this process holds now; 0 where the system does not say."""
    with contextlib.suppress(OSError):
        return int(STATM.read_text(encoding="ascii").split()[1]) * os.sysconf("SC_PAGE_SIZE")
    return 0


def give_back() -> None:
    """Hand pages that were freed back to the system, where its library can be asked to."""
    with contextlib.suppress(OSError, AttributeError):
        ctypes.CDLL(None).malloc_trim(0)


@contextlib.contextmanager
def undisturbed() -> Iterator[None]:
    """Look for objects that nobody can reach after the work within, not in the middle of it.

    Looking through everything a worker holds takes as long as a whole first answer.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


class Sweeper:
    """Looks for objects that nobody can reach, between two pieces of work: the young ones, and now and then all."""

    def __init__(self) -> None:
        self._since = 0

    def sweep(self, idle: bool = False) -> None:
        """Do so after a piece of work, or while there is none."""
        self._since += not idle
        full = self._since >= OFTEN or (idle and self._since > 0)
        gc.collect(2 if full else 0)
        if full:
            self._since = 0

"""How much memory this process holds, and giving back what it no longer uses. Where neither can be asked, nothing."""

from __future__ import annotations

import contextlib
import ctypes
import os
from pathlib import Path

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

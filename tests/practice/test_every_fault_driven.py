"""Each fault once on machines that mow, till, throw or split, played to the end with a fixed seed."""

from __future__ import annotations

import pytest

from firstpull.handbook.book import Book
from tests.practice.every_fault import check_class

MACHINES = (
    "ride-on-single", "snow-blower", "tiller", "walk-mower-ohv", "walk-mower-ohv-electric", "walk-mower-sv",
    "walk-mower-sv-points", "log-splitter",
)


@pytest.mark.parametrize("machine", MACHINES)
def test_nearly_every_fault_is_found_proven_and_mended_and_nothing_unsafe_is_done(book: Book, machine: str) -> None:
    check_class(book, machine)

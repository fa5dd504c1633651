"""Every fault that plays on machines that mow, till, throw or split, played to the end with a fixed seed."""

from __future__ import annotations

from firstpull.handbook.book import Book
from tests.practice.every_fault import check_machines

MACHINES = (
    "ride-on-single", "snow-blower", "tiller", "walk-mower-ohv", "walk-mower-ohv-electric", "walk-mower-sv",
    "walk-mower-sv-points", "log-splitter",
)


def test_most_faults_are_found_proven_and_mended_and_nothing_unsafe_is_done(book: Book) -> None:
    check_machines(book, MACHINES)

"""Every fault that plays on machines that are carried to their work, played to the end with a fixed seed."""

from __future__ import annotations

from firstpull.handbook.book import Book
from tests.practice.every_fault import check_machines, sample
from tests.practice.test_every_fault_driven import MACHINES as DRIVEN

MACHINES = (
    "chain-saw", "generator-brush-50", "generator-brush-60", "generator-capacitor-50", "generator-capacitor-60",
    "generator-inverter-50", "generator-inverter-60", "handheld-four-stroke", "leaf-blower", "pressure-washer",
    "string-trimmer", "water-pump",
)


def test_most_faults_are_found_proven_and_mended_and_nothing_unsafe_is_done(book: Book) -> None:
    check_machines(book, MACHINES)


def test_the_two_files_play_every_class(book: Book) -> None:
    assert {*MACHINES, *DRIVEN} == set(book.machines)
    both = sample(book, MACHINES) + sample(book, DRIVEN)
    assert len({fault for _, fault in both}) == len(both) == len(book.faults)

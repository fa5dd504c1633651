"""Each fault once on machines that are carried to their work, played to the end with a fixed seed."""

from __future__ import annotations

import pytest

from firstpull.handbook.book import Book
from tests.practice.every_fault import check_class, faults_of
from tests.practice.test_every_fault_driven import MACHINES as DRIVEN

MACHINES = (
    "chain-saw", "generator-brush-50", "generator-brush-60", "generator-capacitor-50", "generator-capacitor-60",
    "generator-inverter-50", "generator-inverter-60", "handheld-four-stroke", "leaf-blower", "pressure-washer",
    "string-trimmer", "water-pump",
)


@pytest.mark.parametrize("machine", MACHINES)
def test_nearly_every_fault_is_found_proven_and_mended_and_nothing_unsafe_is_done(book: Book, machine: str) -> None:
    check_class(book, machine)


def test_the_two_files_play_every_class_and_so_every_fault(book: Book) -> None:
    assert {*MACHINES, *DRIVEN} == set(book.machines)
    assert {f for m in book.machines for f in faults_of(book, m)} == set(book.faults)

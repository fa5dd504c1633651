"""A fault that shows in nobody's hands cannot be the cause of a complaint: every one shows on some class of machine."""

from __future__ import annotations

import pytest

from benchmarks.weak_faults import shown
from firstpull.handbook.book import Book
from firstpull.handbook.read import load

CLASSES = ("walk-mower-ohv", "walk-mower-sv", "ride-on-single", "string-trimmer", "chain-saw", "snow-blower",
           "generator-brush-50", "generator-capacitor-60", "water-pump")
SHOWS = 0.3  # share of variants in whose owner's hands some complaint holds
# They wait for a service, for a cold damp day, for somebody who pulls lazily, or for the next strike.
WAITING = {
    "low-oil-does-not-protect", "interlock-does-not-stop", "charging-too-high", "carburettor-ices", "oil-wrong-grade",
    "air-gap-wide", "magnet-rusty", "emulsion-tube-blocked", "carbon-in-head", "pump-valve-leaks", "starter-drags",
}


@pytest.fixture(scope="module")
def book() -> Book:
    return load()


@pytest.fixture(scope="module")
def best(book: Book) -> dict[str, float]:
    found: dict[str, float] = {}
    for machine in CLASSES:
        for fault, (share, _) in shown(book, machine, count=32).items():
            found[fault] = max(found.get(fault, 0.0), share)
    return found


def test_every_fault_of_a_machine_shows_to_its_owner_somewhere(book: Book, best: dict[str, float]) -> None:
    weak = {f for f, share in best.items() if share < SHOWS and book.faults[f].kind != "workshop"}
    assert weak - WAITING == set()


def test_none_is_excused_that_shows_well(best: dict[str, float]) -> None:
    assert {f for f in WAITING if best.get(f, 0.0) > 0.6} == set()


def test_who_swaps_choke_and_run_finds_it_hard_to_start(best: dict[str, float]) -> None:
    assert best["choke-or-primer-misused"] > 0.6

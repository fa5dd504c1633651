"""What of the handbook holds for one machine class: the entries, rates, minutes and healthy spreads of that class."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from firstpull.base.errors import HandbookError
from firstpull.base.spread import Spread
from firstpull.engine.vocabulary import PARAMETERS, SIZES
from firstpull.handbook.book import Book
from firstpull.handbook.entries import (
    Access,
    Check,
    Complaint,
    DriveWay,
    Fault,
    MachineClass,
    Needs,
    Only,
    ReleaseProof,
    Repair,
    Spec,
    Told,
)
from firstpull.handbook.findings import nearest

_E = TypeVar("_E", Fault, Check, Repair, Access, DriveWay, Complaint, Told, ReleaseProof)


@dataclass(frozen=True, eq=False)
class ClassBook:
    """The handbook as it holds for one class. Equal and hashed by the book's content and the class.

    `sizes` has every size of the engine vocabulary, `healthy` every parameter; `rates` the relative frequency of
    each fault; `minutes` those of each access item, off and on. Items that the class does not have are gone from
    what checks, repairs, drives and items need: a thing that is not there is in nobody's way.
    """

    book: Book
    machine: MachineClass
    sizes: Mapping[str, float | str]
    healthy: Mapping[str, Spread]
    specs: Mapping[str, Spec]
    faults: Mapping[str, Fault]
    rates: Mapping[str, float]
    checks: Mapping[str, Check]
    repairs: Mapping[str, Repair]
    access: Mapping[str, Access]
    minutes: Mapping[str, tuple[float, float]]
    drives: tuple[DriveWay, ...]
    complaints: Mapping[str, Complaint]
    told: Mapping[str, Told]
    releases: Mapping[str, ReleaseProof]

    @cached_property
    def hash(self) -> str:
        """Changes whenever the book or the class does."""
        return hashlib.sha256(f"{self.book.hash} {self.machine.id}".encode()).hexdigest()[:16]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, ClassBook) and other.hash == self.hash

    def __hash__(self) -> int:
        return hash(self.hash)


def for_class(book: Book, machine_id: str) -> ClassBook:
    """The handbook as it holds for one machine class.

    Raises:
        HandbookError: when the handbook has no such class.
    """
    if machine_id not in book.machines:
        raise HandbookError(f"no machine class '{machine_id}'", "machine", nearest(machine_id, book.machines))
    machine = book.machines[machine_id]
    sizes = sizes_of(machine)
    rates = {f.id: f.rate.get(machine_id, f.rate.get("default", 0.0)) for f in book.faults.values()}
    faults = {name: f for name, f in _held(book.faults, sizes).items() if rates[name] > 0}
    access = _held(book.access, sizes)
    return ClassBook(
        book=book,
        machine=machine,
        sizes=sizes,
        healthy=_healthy(machine),
        specs={spec.id: spec for spec in machine.specs},
        faults=faults,
        rates={name: rates[name] for name in faults},
        checks={name: _trimmed_check(check, access) for name, check in _held(book.checks, sizes).items()},
        repairs={
            name: repair.model_copy(update={"needs": _trimmed(repair.needs, access)})
            for name, repair in _held(book.repairs, sizes).items()
            if any(fault in faults for fault in repair.cures)
        },
        access={n: item.model_copy(update={"first": _trimmed(item.first, access)}) for n, item in access.items()},
        minutes={n: i.by_class.get(machine_id, (i.off_minutes, i.on_minutes)) for n, i in access.items()},
        drives=tuple(
            way.model_copy(update={"needs": _trimmed(way.needs, access)})
            for way in book.drives
            if holds(way.only, sizes)
        ),
        complaints=_held(book.complaints, sizes),
        told=_held(book.told, sizes),
        releases=_held(book.releases, sizes),
    )


def sizes_of(machine: MachineClass) -> dict[str, float | str]:
    """Every size of the engine vocabulary, as the class has it."""
    return {name: machine.sizes.get(name, size.default) for name, size in SIZES.items()}


def holds(only: Only, sizes: Mapping[str, float | str]) -> bool:
    """Whether a class with these traits is one of those that an entry exists for."""
    return all(sizes.get(trait) in words for trait, words in only.items())


def _held(shelf: Mapping[str, _E], sizes: Mapping[str, float | str]) -> dict[str, _E]:
    return {name: entry for name, entry in shelf.items() if holds(entry.only, sizes)}


def _healthy(machine: MachineClass) -> dict[str, Spread]:
    healthy = {name: parameter.healthy for name, parameter in PARAMETERS.items()}
    for own in machine.healthy:
        parameter = PARAMETERS[own.parameter]
        healthy[own.parameter] = own.spread(parameter.low, parameter.high)
    return healthy


def _trimmed_check(check: Check, access: Mapping[str, Access]) -> Check:
    return check.model_copy(
        update={
            "needs": _trimmed(check.needs, access),
            "wants": _trimmed(check.wants, access),
            "varies": tuple(item for item in check.varies if item in access),
        }
    )


def _trimmed(needs: Needs, access: Mapping[str, Access]) -> Needs:
    return Needs(
        off=tuple(item for item in needs.off if item in access),
        on=tuple(item for item in needs.on if item in access),
    )

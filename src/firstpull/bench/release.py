"""Proving, and the two doors out: released as working, or returned not repaired."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from firstpull.base.errors import FirstpullError, RefusedError
from firstpull.bench.find import repairs_done, session_of
from firstpull.bench.ourselves import ourselves, read_sum
from firstpull.bench.reading import read_values
from firstpull.bench.shop import Done, Shop
from firstpull.gauges.acceptance import accept
from firstpull.handbook.entries import Check, ReleaseProof, Repair
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.acts import NOT_DONE, UNIVERSAL
from firstpull.safety.interlocks import red
from firstpull.safety.release import (
    Hindrance,
    ReleaseVerdict,
    Result,
    Shown,
    may_leave_working,
    may_return,
    wanted_proofs,
)
from firstpull.workshop.events import Event
from firstpull.workshop.fold import JobRecord


@dataclass(frozen=True, slots=True)
class Reported:
    """One release proof as it stands on a job."""

    id: str
    name: str
    check: str
    times: int
    results: tuple[Result, ...]
    safety: bool
    result: Result


@dataclass(frozen=True, slots=True)
class Door:
    """The way out as working: the verdict, every proof, and what the machine leaves with if it goes back unmended."""

    verdict: ReleaseVerdict
    proofs: tuple[Reported, ...]
    as_it_is: tuple[str, ...]
    unstoppable: bool


def door(shop: Shop, job: str, reasons: Mapping[str, str] | None = None) -> Door:
    """What stands between a machine and the way out as working.

    Raises:
        FirstpullError: there is no such job, or its class is not known.
    """
    record = shop.record(job)
    session = session_of(shop, record)
    done = repairs_done(shop, record)
    proofs = wanted_proofs(session.book, done)
    shown = {p.id: Shown(p.id, _results(session.book, p, record)) for p in proofs.values()}
    verdict = may_leave_working(session.state, proofs, shown, _values_missing(done, record), reasons)
    if red(session.state.tokens):
        worst = Hindrance("The engine cannot be stopped as it stands", True, "red", "red")
        verdict = ReleaseVerdict(False, (worst, *verdict.hindrances), verdict.overridden)
    reported = tuple(
        Reported(p.id, p.name, p.check, p.times, shown[p.id].results, p.safety, shown[p.id].result(p.times))
        for p in proofs.values()
    )
    return Door(verdict, reported, may_return(session.state), red(session.state.tokens))


def _results(book: ClassBook, proof: ReleaseProof, record: JobRecord) -> tuple[Result, ...]:
    """Results of a proof since the machine was last worked on."""
    worked = [e.seq for e in record.repairs if (e.body.get("by") or "shop") == "shop"]
    since = max(worked, default=0)
    mine = [e for e in record.readings if e.body.get("check") == proof.check and e.seq > since]
    found: list[Result] = []
    for event in mine:
        result = _result(book, proof, event)
        found += [result] * max(1, int(event.body.get("times", 1))) if result is not None else []
    return tuple(found)


def _result(book: ClassBook, proof: ReleaseProof, event: Event) -> Result | None:
    reading = event.body.get("reading")
    if reading == NOT_DONE:
        return None
    if reading in UNIVERSAL:
        return "undecided"
    if proof.check not in book.checks:
        return "passed" if reading in proof.outcomes else "failed"
    check = book.checks[proof.check]
    try:
        reads = read_values(check, reading, event.body.get("spread"))
    except FirstpullError:
        return None
    if not reads:
        return None
    first = reads[0]
    if first.number is not None:
        return _number(book, proof, check, first.number, first.spread)
    return "passed" if first.word in proof.outcomes else "undecided" if first.word in UNIVERSAL else "failed"


def _number(book: ClassBook, proof: ReleaseProof, check: Check, number: float, spread: float) -> Result:
    """A number against the specification of the class, with the instrument's spread; no figure held is undecided."""
    tool = book.book.instruments[check.instrument]
    width = (tool.noise**2 + (tool.relative * number) ** 2 + tool.resolution**2 / 12 + spread**2) ** 0.5
    spec = book.specs.get(proof.spec or "")
    if spec is None or (spec.low is None and spec.high is None):
        reading = check.readings[0]
        inside = [o.id for o in reading.outcomes if (o.start is None or number >= o.start)
                  and (o.below is None or number < o.below)]
        return "passed" if set(inside) & set(proof.outcomes) else "undecided"
    return accept(number, width, spec.low, spec.high)


def _values_missing(done: Sequence[Repair], record: JobRecord) -> list[str]:
    """Values that a repair asks to be written down and that nobody wrote."""
    written = {str(e.body.get("name")) for e in record.values}
    return [v.id for r in done for v in r.values if v.must and v.id not in written]


def release_working(
    shop: Shop, job: str, reasons: Mapping[str, str], *, act_id: str, based_on: int, by: str
) -> Done:
    """Release as working.

    Raises:
        RefusedError: something stands in the way; a reason never opens the door for a safety proof.
    """
    found = door(shop, job, reasons)
    if not found.verdict.allowed:
        stands = "; ".join(h.what for h in found.verdict.hindrances)
        raise RefusedError(f"not yet: {stands}", f"job {job}", "prove or put right, or hand it back unmended")
    body = {"way": "working", "override": {i: reasons[i] for i in found.verdict.overridden}}
    return shop.do(job, "release", body, act_id=act_id, based_on=based_on, by=by)


def return_unmended(
    shop: Shop, job: str, why: str, *, act_id: str, based_on: int, by: str, unsafe: Sequence[str] = ()
) -> Done:
    """Hand it back not repaired; always possible, with its state as it leaves in writing.

    Raises:
        FirstpullError: no reason was given.
    """
    if not why.strip():
        raise RefusedError("no reason", f"job {job}", "declined, not found, not worth it, unsafe, in your words")
    record = shop.record(job)
    missing: tuple[str, ...] = ()
    failed: list[str] = []
    if record.machine_class in shop.room.book.machines:
        found = door(shop, job)
        missing = found.as_it_is
        failed = [h.what for h in found.verdict.hindrances if h.safety and h.result == "failed"]
    body = {"way": "returned", "why": why.strip(), "missing": list(missing), "unsafe": [*failed, *unsafe]}
    return shop.do(job, "release", body, act_id=act_id, based_on=based_on, by=by)


@dataclass(frozen=True, slots=True)
class WithIt:
    """What changes hands with a machine: money as typed, loose bits and old parts, what was refused as unsafe.

    `keep_open` leaves the job open while the owner uses it: the fault would not show here.
    """

    paid: str = ""
    how_paid: str = ""
    loose_bits: tuple[str, ...] = ()
    old_parts: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    keep_open: bool = False

    def body(self, currency: str) -> dict[str, Any]:
        """The fields of the event that were said.

        Raises:
            InputError: the money is no sum.
        """
        found: dict[str, Any] = {
            "how_paid": self.how_paid.strip(), "loose_bits": list(self.loose_bits), "old_parts": list(self.old_parts),
            "refused": list(self.refused), "keep_open": self.keep_open,
        }
        if self.paid.strip():
            money = read_sum(self.paid, currency, "paid")
            found["paid"] = {"amount": str(money.amount), "currency": money.currency}
        return {k: v for k, v in found.items() if v}


NOTHING_WITH_IT = WithIt()


def hand_back(
    shop: Shop, job: str, to: str, fuel: str, *, act_id: str, based_on: int, by: str, with_it: WithIt = NOTHING_WITH_IT
) -> Done:
    """Give the machine back; only through one of the two doors, and as it was when it passed.

    Raises:
        RefusedError: neither door has been passed, or what was done since has shut the door to working machines again.
        InputError: what was paid is no sum.
    """
    passed = shop.record(job).release
    if passed is None:
        raise RefusedError("neither released nor returned", f"job {job}", "pass one of the two doors first")
    if passed.body.get("way") == "working":
        found = door(shop, job, passed.body.get("override") or {})
        if not found.verdict.allowed:
            stands = "; ".join(h.what for h in found.verdict.hindrances)
            raise RefusedError(f"since its release: {stands}", f"job {job}", "put it right, or hand it back unmended")
    body = {"to": to, "fuel": fuel, **with_it.body(ourselves(shop).currency)}
    return shop.do(job, "handed-back", body, act_id=act_id, based_on=based_on, by=by)

"""The two doors out: released as working, or returned not repaired."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from firstpull.handbook.entries import ReleaseProof, Repair
from firstpull.handbook.select import ClassBook
from firstpull.safety.interlocks import NEVER_RUN_WITHOUT
from firstpull.safety.state import MachineState

Result = Literal["passed", "failed", "undecided", "missing"]


@dataclass(frozen=True, slots=True)
class Shown:
    """What was shown of one release proof: results in the order they were taken."""

    proof: str
    results: tuple[Result, ...] = ()

    def result(self, times: int) -> Result:
        """The proof as it stands: the last `times` results must all have passed."""
        last = self.results[-times:]
        if "failed" in last:
            return "failed"
        if "undecided" in last:
            return "undecided"
        return "passed" if last == ("passed",) * times else "missing"


@dataclass(frozen=True, slots=True)
class Hindrance:
    """One thing that stands between the machine and the door."""

    what: str
    safety: bool
    kind: Literal["proof", "away", "value", "red"]
    id: str
    result: Result = "missing"


@dataclass(frozen=True, slots=True)
class ReleaseVerdict:
    """Whether the machine may leave as working, and all that stands in the way."""

    allowed: bool
    hindrances: tuple[Hindrance, ...]
    overridden: tuple[str, ...] = ()


def wanted_proofs(book: ClassBook, done: Sequence[Repair]) -> dict[str, ReleaseProof]:
    """The proofs this machine needs: those of its class, and those that its repairs call for."""
    parts = {r.part for r in done}
    found = {n: p for n, p in book.releases.items() if not p.after_parts or parts & set(p.after_parts)}
    return {n: p for n, p in found.items() if p.check in book.checks or p.check in book.complaints}


def may_leave_working(
    state: MachineState,
    proofs: Mapping[str, ReleaseProof],
    shown: Mapping[str, Shown],
    values_missing: Sequence[str] = (),
    cosmetic: Mapping[str, str] | None = None,
) -> ReleaseVerdict:
    """Whether all proofs passed, everything is back on and nothing of ours is left on it.

    `cosmetic` gives a written reason for each item or value that may be passed over; a reason never opens the door
    for a safety proof, for anything added, or for a part whose absence forbids running. "Undecided" is not passed.
    """
    reasons = cosmetic or {}
    found = [h for p in proofs.values() if (h := _proof(p, shown)) is not None]
    found += [_away(state, item) for item in sorted(state.away)]
    found += [Hindrance(f"{value}: value not recorded", False, "value", value) for value in values_missing]
    standing = tuple(h for h in found if h.safety or not reasons.get(h.id, "").strip())
    overridden = tuple(sorted(h.id for h in found if h not in standing))
    return ReleaseVerdict(not standing, standing, overridden)


def _proof(proof: ReleaseProof, shown: Mapping[str, Shown]) -> Hindrance | None:
    result = shown.get(proof.id, Shown(proof.id)).result(proof.times)
    if result == "passed":
        return None
    return Hindrance(proof.name, proof.safety, "proof", proof.id, result)


def _away(state: MachineState, item: str) -> Hindrance:
    entry = state.items[item]
    words = f"{entry.name}: still on the machine" if entry.added else f"{entry.name}: still off"
    needed = bool(entry.forbids) or bool(NEVER_RUN_WITHOUT & frozenset(entry.tokens))
    return Hindrance(words, entry.added or needed, "away", item)


def may_return(state: MachineState) -> tuple[str, ...]:
    """What must be written on the machine that goes back unmended; this door is always open.

    The list says how it leaves: what is off, what of ours would still be on it.
    """
    return tuple(_away(state, item).what for item in sorted(state.away))

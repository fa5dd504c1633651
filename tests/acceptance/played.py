"""How the acceptance tests put a case to the bench and read the answer."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from firstpull.bench.case import read_case
from firstpull.bench.session import Session
from firstpull.bench.stateless import reason_file, start
from firstpull.bench.worldroom import WorldRoom

CASES = Path(__file__).resolve().parents[2] / "examples" / "cases"
HELD = {"access": "control-held", "state": "on"}
LEAD_OFF = {"access": "stop-lead", "state": "off"}


def session(
    room: WorldRoom,
    steps: Iterable[Mapping[str, Any]],
    *,
    machine: str = "walk-mower-ohv",
    complaint: Iterable[str] = ("will-not-start",),
    told: Iterable[str] = (),
    **conditions: float,
) -> Session:
    """A job with these steps done."""
    raw = {
        "machine": machine,
        "complaint": list(complaint),
        "told": list(told),
        "conditions": conditions,
        "step": list(steps),
    }
    return start(room, read_case(raw, room.book), 2)


def at_tester(reading: str, drive: str | None = None) -> dict[str, Any]:
    """A reading at the spark tester."""
    step: dict[str, Any] = {"check": "spark-at-tester", "reading": reading}
    return step | ({"with": {"drive": drive}} if drive else {})


def of_file(room: WorldRoom, name: str) -> dict[str, Any]:
    """The answer to one of the example cases."""
    return reason_file(room, CASES / name, 2)


def share(probabilities: Mapping[str, float], faults: Iterable[str]) -> float:
    """The probability of these faults together; they exclude one another nearly always."""
    return sum(probabilities.get(f, 0.0) for f in faults)


COIL = (
    "coil-dead",
    "coil-shorted",
    "coil-winding-open",
    "coil-secondary-open",
    "coil-weak",
    "coil-fires-only-fast",
    "new-coil-dead",
    "coil-fails-hot",
    "coil-shorts-hot",
    "wrong-coil",
    "coil-back-to-front",
)
COIL_WITH_EARTH = (
    *COIL,
    "coil-badly-earthed",
    "boot-loose",
    "lead-leaks",
    "air-gap-wide",
    "magnet-weak",
    "magnet-rusty",
)
STOP_CIRCUIT = (
    "stop-lead-chafed",
    "stop-lead-touches-now-and-then",
    "stop-lead-leaks-damp",
    "stop-switch-stuck-closed",
    "control-cable-short",
    "stop-lead-trapped-by-repair",
    "control-not-held",
    "low-oil-false-trip",
    "interlock-cuts-spark",
)

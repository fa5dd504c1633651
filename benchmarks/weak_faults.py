"""Which faults an owner would bring in: the share of each fault's variants in whose hands some complaint holds.

`python -m benchmarks.weak_faults [--below 0.35] [--classes a,b]` prints the faults below a share, class by class. A
fault that shows in nobody's hands is never the cause of what somebody complains of: its draws, its rate or the
complaints want another look. Faults that wait for a service (a safety device that would not act) and faults of the
bench's own tools are bound to stand here.
"""

from __future__ import annotations

import argparse

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.book import Book
from firstpull.handbook.read import load
from firstpull.handbook.select import for_class
from firstpull.reasoning.acts import ComplaintAct
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import SHARED, Row, Worlds

FloatArray = NDArray[np.float64]
VARIANTS = 64
WITHOUT_CAUSE = ("after work", "service")  # groups of complaints that speak of no particular fault


def shown(book: Book, machine: str, count: int = VARIANTS) -> dict[str, tuple[float, dict[str, float]]]:
    """For each fault of a class: the share of variants that show it, and the complaints by the share that show them."""
    worlds = Worlds(for_class(book, machine), Conditions(), count=count)
    scales, faults = Scales(worlds), list(worlds.book.rates)
    machines = [(Row(frozenset({f})), SHARED) for f in faults]
    best = np.zeros((len(faults), count))
    each: dict[str, FloatArray] = {}
    for name, entry in worlds.book.complaints.items():
        if entry.group in WITHOUT_CAUSE:
            continue
        said = np.stack(scales.complaint(ComplaintAct(name), machines, False))
        events = (said - entry.false_alarm) / (entry.heard - entry.false_alarm)  # is there, whether it is said or not
        each[name] = events.mean(axis=1)
        best = np.maximum(best, events)
    return {
        fault: (float(best[i].mean()), {c: float(v[i]) for c, v in each.items() if v[i] > 0.03})
        for i, fault in enumerate(faults)
    }


def main() -> None:
    """Print the table."""
    book = load()
    words = argparse.ArgumentParser(description="Faults that no owner would bring in.")
    words.add_argument("--below", type=float, default=0.35)
    words.add_argument("--classes", default=",".join(book.machines))
    said = words.parse_args()
    weak = total = 0
    for machine in said.classes.split(","):
        rates = for_class(book, machine).rates
        print(f"{machine}: share of variants that show, rate, fault, what shows")
        for fault, (share, complaints) in sorted(shown(book, machine).items(), key=lambda item: item[1][0]):
            total += 1
            if share < said.below:
                weak += 1
                first = sorted(complaints, key=lambda c: -complaints[c])[:3]
                print(f"  {share:.2f} {rates[fault]:6.2f} {fault:32s} {', '.join(first) or '-'}")
    print(f"{weak} of {total} faults, counted class by class, show in fewer than {said.below:g} of their variants")


if __name__ == "__main__":
    main()

"""What to ask the customer while they stand there: the told facts that would move the odds most."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from firstpull.reasoning.acts import ToldAct
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.information import mutual_bits
from firstpull.reasoning.prior import told_factor

MOST_ASKED = 5
LEAST_BITS = 0.01


@dataclass(frozen=True, slots=True)
class Asking:
    """A question worth asking: the told fact, its words, what the answer would tell, and how likely a yes is."""

    fact: str
    question: str
    bits: float
    yes: float


def worth_asking(belief: Belief, most: int = MOST_ASKED) -> tuple[Asking, ...]:
    """The questions not asked yet that tell most, best first; those that tell nothing are left out."""
    book = belief.walk.book
    asked = {a.fact for a in belief.acts if isinstance(a, ToldAct)}
    share = belief.probability / belief.probability.sum()
    threads = [t.original for t in belief.threads]
    found = []
    for fact, entry in book.told.items():
        if fact in asked:
            continue
        act, changing = ToldAct(fact), {f for f, fault in book.faults.items() if fact in fault.told}
        factors = [0.0 if changing.isdisjoint(faults) else told_factor(book, act, faults) for faults in threads]
        yes = np.clip(entry.common * np.exp(np.array(factors)), 0.0, 1.0)
        bits = mutual_bits(np.stack([yes, 1.0 - yes]), share)
        if bits > LEAST_BITS:
            found.append(Asking(fact, entry.question, bits, float(yes @ share)))
    return tuple(sorted(found, key=lambda a: -a.bits)[:most])

"""The next step from how things stand, what else was considered, and what it is all expected to cost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.laying import STEP_MINUTES, Done, Laid, lay_out, mutual_bits, nothing_done
from firstpull.reasoning.options import Option
from firstpull.reasoning.planner.bound import InformationBound
from firstpull.reasoning.planner.lookahead import LookAhead, Ranked
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.table import LiveState
from firstpull.safety.moves import Move, plan_moves
from firstpull.safety.state import MachineState

FloatArray = NDArray[np.float64]

# How far apart two expected costs must lie before the look-ahead can tell them apart: judgement.
LEVEL_SHARE = 0.01
LEVEL_MINUTES = 0.3


@dataclass(frozen=True, eq=False)
class Considered:
    """A step that was considered and its expected cost to the end, in minutes-equivalents.

    For a check, `words` and `table` give its outcomes and their chance in each state of the advice.
    """

    kind: Literal["check", "repair", "proof", "end"]
    id: str
    cost: float
    option: Option | None = None
    moves: tuple[Move, ...] = ()
    words: tuple[str, ...] = ()
    table: FloatArray | None = None
    place: Arrangement | None = None

    @property
    def minutes(self) -> float:
        """Hands-on minutes of the step with its moves."""
        own = self.option.minutes if self.option else 0.0
        return own + sum(m.minutes for m in self.moves)


@dataclass(frozen=True, eq=False)
class Advice:
    """All steps considered, best first, and the expected cost with a bound that is never above the least."""

    steps: tuple[Considered, ...]
    expected: float
    lower_bound: float
    states: tuple[LiveState, ...]
    known: FloatArray  # (S,) cost if the state were known

    @property
    def next(self) -> Considered:
        """The step proposed."""
        return self.steps[0]

    @property
    def share(self) -> FloatArray:
        """Probability of each state, shape (S,)."""
        return np.array([s.probability for s in self.states])


def advise(
    belief: Belief, state: MachineState, prices: Prices, depth: int = 2, done: Done = nothing_done
) -> Advice:
    """The step with the least expected minutes and money; the same inputs give the same advice."""
    laid = lay_out(belief, state, prices, done)
    model = Model(laid.problem)
    ranked = LookAhead(model).rank(laid.problem.prior, laid.problem.initially, 0, depth=depth)
    book = belief.walk.book
    steps = [_considered(book, state, laid, r) for r in ranked]
    proven = [s for s in steps if may_buy(belief, book, prices, s)]
    steps = _most_telling_first(proven or [s for s in steps if s.kind == "end"] or steps[-1:], laid)
    unused = np.ones((1, model.checks))
    low, _ = InformationBound(model).low(
        laid.problem.prior[None], [model.at(laid.problem.initially)], np.zeros(1, np.int64), unused
    )
    known = model.at(laid.problem.initially).known
    best = min(s.cost for s in steps)
    return Advice(tuple(steps), best, min(float(low[0]), best), laid.states, known)


def _most_telling_first(steps: list[Considered], laid: Laid) -> list[Considered]:
    """Of steps that cost as good as the same, the check that tells most for its minutes goes first.

    The look-ahead ends in an estimate, and differences smaller than its error are no reason to do a thing later.
    """
    best = steps[0].cost
    level = [s for s in steps if s.cost <= best * (1 + LEVEL_SHARE) + LEVEL_MINUTES]
    share = laid.problem.prior

    def telling(step: Considered) -> float:
        return mutual_bits(step.table, share) / (step.minutes + STEP_MINUTES) if step.table is not None else 0.0

    if steps[0].kind != "check":
        return steps
    first = max(level, key=telling)
    return [first, *(s for s in steps if s is not first)]


def _considered(book: ClassBook, state: MachineState, laid: Laid, ranked: Ranked) -> Considered:
    action = ranked.action
    if action.kind == "check":
        i = action.index
        option = laid.checks[i]
        moves = plan_moves(state, option.off, option.on, book.minutes)
        return Considered("check", action.id, ranked.value, option, tuple(moves), laid.words[i], laid.tables[i],
                          laid.places[i])
    if action.kind == "repair":
        option = laid.repairs[action.index]
        moves = plan_moves(state, option.off, option.on, book.minutes)
        return Considered("repair", action.id, ranked.value, option, tuple(moves))
    if action.kind == "proof":
        moves = put_back(book, state)
        return Considered("proof", action.id, ranked.value, None, tuple(moves))
    return Considered("end", action.id, ranked.value)


def put_back(book: ClassBook, state: MachineState) -> list[Move]:
    """The moves that bring everything back to rest."""
    off = [i for i in state.away if book.access[i].added]
    on = [i for i in state.away if not book.access[i].added]
    return plan_moves(state, off, on, book.minutes)


def may_buy(belief: Belief, book: ClassBook, prices: Prices, step: Considered) -> bool:
    """Whether a step keeps to proof before a dear part."""
    if step.kind != "repair":
        return True
    dear = sum(p.usual for p in book.repairs[step.id].parts) > prices.proof_price
    return not dear or belief.repair_probability[step.id] >= prices.proof_share

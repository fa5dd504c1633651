"""The next step from how things stand, what else was considered, and what it is all expected to cost."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.information import group_bits, mutual_bits
from firstpull.reasoning.laying import Laid, is_dear, lay_out, nothing_done, telling_checks
from firstpull.reasoning.options import Option, arrangement_of
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.lookahead import LookAhead, Ranked
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.value import entropy_bits
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.sifting import STEP_MINUTES, Done, Telling
from firstpull.reasoning.table import LiveState
from firstpull.safety.interlocks import judge
from firstpull.safety.moves import Move, plan_moves
from firstpull.safety.state import MachineState

FloatArray = NDArray[np.float64]

# Thinking is bounded by rounds, alike on every machine; the seconds only guard against a very slow one.
ROUNDS = 24
BEAM = 12
GIVE_UP = 0.7  # an end must cost less than this share of the estimate of going on: judgement
TIE = 0.005  # and checks closer than this are a tie: judgement
LEVEL = 0.02  # costs closer than this share are as good as the same: judgement
TELLS_AGAIN = 0.05  # and bits below which nobody reads a thing twice: judgement
PROVES = 0.03  # share of the doubt about a repair below which a check is no proof of it: judgement
TELLS = 0.003  # bits below which a check tells nothing: judgement
CREDIBLE = 0.05  # a cheap repair less likely than this is not tried before a dear one: judgement
MOST_SECONDS = 5.0
RELEASE = "release"  # the end of a machine whose complaint is gone


@dataclass(frozen=True, eq=False)
class Considered:
    """A step that was considered and its expected cost to the end, in minutes-equivalents.

    For a check, `words` and `table` give its outcomes and their chance in each state of the advice. Where it is
    proposed for the sake of one that must wait for it, `towards` is that check or repair, `later` the check's table,
    `way` the minutes until it is read.
    """

    kind: Literal["check", "repair", "proof", "end"]
    id: str
    cost: float
    option: Option | None = None
    moves: tuple[Move, ...] = ()
    words: tuple[str, ...] = ()
    table: FloatArray | None = None
    place: Arrangement | None = None
    towards: str = ""
    later: FloatArray | None = None
    way: float = 0.0

    @property
    def telling(self) -> FloatArray | None:
        """What it is done for: its own table, or that of the check it opens the way to."""
        return self.table if self.later is None else self.later

    @property
    def to_tell(self) -> float:
        """Minutes until that is read."""
        return max(self.minutes + STEP_MINUTES, self.way)

    @property
    def minutes(self) -> float:
        """Hands-on minutes of the step with its moves."""
        own = self.option.minutes if self.option else 0.0
        return own + sum(m.minutes for m in self.moves)


@dataclass(frozen=True, eq=False)
class Advice:
    """All steps considered, best first, and the expected cost with a bound that is never above the least.

    Steps are in the order of the look-ahead, whose estimates also price the doubt that a step leaves; the expected cost
    is the search's where it knows a cheaper plan.
    """

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
    belief: Belief,
    state: MachineState,
    prices: Prices,
    depth: int = 2,
    done: Done = nothing_done,
    proof_spent: bool = False,
    proved: bool = False,
) -> Advice:
    """The step with the least expected minutes and money; the same inputs give the same advice.

    `proof_spent` says that the complaint was tried since the last repair and still held: trying it again at once would
    tell nothing, so it is proposed only when nothing else is left to do. `proved` says that it was tried and is gone:
    then the machine may go, if its coming back costs less than looking further.
    """
    laid = lay_out(belief, state, prices, done)
    model = Model(laid.problem)
    decider = Decider(model)
    start = (laid.problem.prior, laid.problem.initially, 0)
    bounds = decider.decide(*start, seconds=MOST_SECONDS, rounds=ROUNDS if depth > 1 else 0)
    high = decider.search.fixed.high(*start[:2])
    # Where no check tells anything, the bound's own price of a bit stands in.
    price = bit_price(model, laid, high)
    ahead = LookAhead(model, price=price or None, bound=decider.search.bound, fixed=decider.search.fixed)
    book = belief.walk.book
    ranked = ahead.rank(*start, beam=BEAM)
    if proof_spent and any(r.action.kind in ("check", "repair") for r in ranked):
        ranked = [r for r in ranked if r.action.kind != "proof"]
    here = model.at(laid.problem.initially)
    known = here.known
    considered = [(_considered(book, state, laid, r), r) for r in ranked]
    considered = [(step, r) for step, r in considered if _may_stand(book, state, step)]
    own = [float(here.cost[laid.problem.number(r.action.kind, r.action.index)]) for _, r in considered]
    steps = _end_last([step for step, _ in considered], own, bounds.low, bounds.high)
    steps = _best_rate_first(steps, laid)

    def proofs(again: bool) -> list[Considered]:
        """Every check that may be done as the machine stands; `again` also those that were read already."""
        found = telling_checks(belief, state, prices) if again else (*laid.checks, *laid.more)
        checks = [_check_step(book, state, t, steps[0].cost) for t in found]
        return [step for step in checks if _may_stand(book, state, step)]

    steps = _once(_proof_first(belief, book, prices, laid, steps, proofs))
    if proved:
        steps = _or_release(steps, laid, known, put_back(book, state))
    expected = max(bounds.low, min(bounds.high, steps[0].cost))
    decider.search.forget()
    return Advice(tuple(steps), expected, bounds.low, laid.states, known)


def _may_stand(book: ClassBook, state: MachineState, step: Considered) -> bool:
    """Whether the interlocks let a step be done once its moves are made."""
    if step.option is None:
        return True
    there = state.with_moves([(move.item, move.position) for move in step.moves])
    return judge(there.tokens, step.option.deed, book.sizes).allowed


def _once(steps: list[Considered]) -> list[Considered]:
    """Each step only where it stands first: one that opens the way to several checks is considered several times."""
    seen: dict[tuple[str, str, Arrangement | None], Considered] = {}
    for step in steps:
        seen.setdefault((step.kind, step.id, step.place), step)
    return list(seen.values())


def _end_last(steps: list[Considered], own: Sequence[float], low: float, high: float) -> list[Considered]:
    """Giving up goes first only where going on is clearly dearer, or where every other step only puts it off.

    The look-ahead prices all doubt at what a bit costs today and errs on the high side; an end costs what it says.
    Where the search knows a plan that is cheaper than ending, giving up is never first. `own` is what each step costs
    by itself: one after which the job is no cheaper than ending changes nothing.
    """
    ends = [s for s in steps if s.kind == "end"]
    others = [s for s in steps if s.kind != "end"]
    if not ends or not others:
        return steps
    least = ends[0].cost * (1 - LEVEL)
    if steps[0].kind == "end":
        helping = [s for s, price in zip(steps, own, strict=True) if s.kind != "end" and s.cost - price < least]
        if not helping:
            return steps
        others = [*helping, *(s for s in others if s not in helping)]
    known = high < ends[0].cost * (1 - LEVEL)
    clear = ends[0].cost <= low * (1 + LEVEL) or (not known and ends[0].cost <= GIVE_UP * others[0].cost)
    return [*ends, *others] if clear else [*others, *ends]


def _proof_first(
    belief: Belief,
    book: ClassBook,
    prices: Prices,
    laid: Laid,
    steps: list[Considered],
    proofs: Callable[[bool], list[Considered]],
) -> list[Considered]:
    """Steps with proof before dear parts: where buying costs least and is not proved, what proves it goes first.

    Of every check, the one that tells most for its minutes whether this repair would cure takes the place of the
    repair; when none tells anything to speak of, one that is read again where a slip may have misled; then a cheap
    repair that may cure it instead, whose failing proves the dear one. Then the part may be bought on what there is.
    """
    kept = [s for s in steps if may_buy(belief, book, prices, s)]
    dear = [s for s in steps if s not in kept and s.cost <= steps[0].cost * (1 + LEVEL)]
    if not dear:
        return kept or steps
    wanted = dear[0]
    cured = book.repairs[wanted.id].ends
    helps = np.array([bool(s.faults & cured) for s in laid.states])
    share = laid.problem.prior

    def proving(step: Considered) -> float:
        return two_way_bits(step.telling, share, helps) if step.telling is not None else 0.0

    chance = float(share @ helps)
    least = PROVES * float(entropy_bits(np.array([chance, 1.0 - chance])))
    checks = [s for s in proofs(False) if proving(s) >= least] or [s for s in proofs(True) if proving(s) >= TELLS_AGAIN]
    checks.sort(key=lambda s: -proving(s) / s.to_tell)
    cheap = [s for s in kept if s.kind == "repair" and belief.repair_probability[s.id] >= CREDIBLE]
    first = (checks or cheap)[:1]
    if not first:
        return [wanted, *(s for s in steps if s is not wanted)]
    return [*first, *(s for s in kept if s not in first)]


def _or_release(steps: list[Considered], laid: Laid, known: FloatArray, moves: list[Move]) -> list[Considered]:
    """The steps with release among them: what it costs is that a machine which is not sound comes back.

    A complaint that is gone need not have been the repair's doing: the odds may still speak of a fault that sleeps.
    Looking on is spared the proof that was passed already, should the machine be sound.
    """
    p = laid.problem
    sick = np.arange(len(p.prior)) != p.healthy
    cost = float(p.prior[sick] @ p.comeback_cost[sick]) + sum(m.minutes for m in moves)
    release = Considered("end", RELEASE, cost, None, tuple(moves))
    spared = float(p.prior[p.healthy] * known[p.healthy]) if steps and steps[0].kind == "check" else 0.0
    if not steps or cost <= (steps[0].cost - spared) * (1 + LEVEL):
        return [release, *steps]
    place = next((i for i, s in enumerate(steps) if i > 0 and s.cost > cost), len(steps))
    return [*steps[:place], release, *steps[place:]]


def _best_rate_first(steps: list[Considered], laid: Laid) -> list[Considered]:
    """Of checks that cost as good as the same to the end, the one that tells most for its minutes goes first."""
    if not steps or steps[0].kind != "check" or steps[0].telling is None:
        return steps
    level = [s for s in steps if s.telling is not None and s.cost <= steps[0].cost * (1 + TIE)]
    share = laid.problem.prior

    def rate(step: Considered) -> float:
        assert step.telling is not None
        return group_bits(step.telling, share, laid.groups) / step.to_tell

    first = max(level, key=rate)
    return [first, *(s for s in steps if s is not first)]


def two_way_bits(table: FloatArray, share: FloatArray, helps: NDArray[np.bool_]) -> float:
    """What an outcome tells about one question: would it help or not.

    Args:
        table: chance of each outcome in each state [1], shape (O, S).
        share: probability of each state [1], shape (S,).
        helps: states in which it would [1], shape (S,).

    Returns:
        Mutual information [bit], scalar.

    Valid: columns that sum to one.
    Source: Shannon, Bell Syst. Tech. J. 27 (1948) 379-423.
    """
    parts = np.array([float(share[helps].sum()), float(share[~helps].sum())])
    if parts.min() <= 0:
        return 0.0
    joined = np.stack([table[:, helps] @ share[helps], table[:, ~helps] @ share[~helps]], axis=1) / parts
    return mutual_bits(joined, parts / parts.sum())


def bit_price(model: Model, laid: Laid, blind: float) -> float:
    """What a bit about the cause costs here: what the cheapest check charges for one, or less where trying is cheaper.

    Doubt never costs more than doing without readings: repairs tried in order, each with its proof, or the end.

    Args:
        model: the problem made ready [1], scalar.
        laid: the problem and its tables [1], scalar.
        blind: expected cost of the best plan that looks at no reading [min], scalar.

    Returns:
        Price [min/bit], scalar; 0 where nothing tells anything.

    Valid: any problem; later bits are dearer, so the price is on the low side.
    Source: judgement, after the price of information in Raghavan, Shakeri, Pattipati, IEEE SMC-A 29 (1999) 153-163.
    """
    share = laid.problem.prior
    here = model.at(laid.problem.initially)
    bits = [group_bits(t.table, share, laid.groups) for t in laid.checks]
    offers = [here.cost[i] / b for i, b in enumerate(bits) if b > TELLS]
    if not offers:
        return 0.0
    doubt = float(entropy_bits(np.bincount(laid.groups, weights=share).astype(np.float64)))
    spare = max(blind - float(share @ here.known), 0.0)
    return float(min(*offers, spare / doubt)) if doubt > TELLS else float(min(offers))


def _check_step(book: ClassBook, state: MachineState, telling: Telling, cost: float) -> Considered:
    """A check, or the first safer one that it must wait for."""
    now = telling.lead or telling
    moves = tuple(plan_moves(state, now.option.off, now.option.on, book.minutes))
    step = Considered("check", now.option.id, cost, now.option, moves, now.words, now.table, now.place)
    if telling.lead is None:
        return step
    return replace(step, towards=telling.option.id, later=telling.table, way=telling.before + telling.option.minutes)


def _repair_step(book: ClassBook, state: MachineState, laid: Laid, index: int, cost: float) -> Considered:
    """A repair, or the first step that it still waits for."""
    own, waits = laid.repairs[index], laid.waits[index]
    now = waits[0] if waits else own
    moves = tuple(plan_moves(state, now.off, now.on, book.minutes))
    if now.kind == "repair":
        return Considered("repair", now.id, cost, now, moves, towards=own.id if waits else "")
    known = next((t for t in (*laid.checks, *laid.more) if t.option.id == now.id and t.lead is None), None)
    if known is not None:
        return replace(_check_step(book, state, known, cost), towards=own.id)
    there = state.with_moves([(move.item, move.position) for move in moves])
    return Considered("check", now.id, cost, now, moves, place=arrangement_of(book, now, there.away), towards=own.id)


def _considered(book: ClassBook, state: MachineState, laid: Laid, ranked: Ranked) -> Considered:
    action = ranked.action
    if action.kind == "check":
        return _check_step(book, state, laid.checks[action.index], ranked.value)
    if action.kind == "repair":
        return _repair_step(book, state, laid, action.index, ranked.value)
    if action.kind == "proof":
        moves = put_back(book, state)
        return Considered("proof", action.id, ranked.value, None, tuple(moves))
    return Considered("end", action.id, ranked.value)


def put_back(book: ClassBook, state: MachineState) -> list[Move]:
    """The moves that bring everything back to rest."""
    off = [i for i, entry in book.access.items() if entry.added]
    on = [i for i, entry in book.access.items() if not entry.added]
    return plan_moves(state, off, on, book.minutes)


def may_buy(belief: Belief, book: ClassBook, prices: Prices, step: Considered) -> bool:
    """Whether a step keeps to proof before a dear part."""
    if step.kind != "repair":
        return True
    return not is_dear(book.repairs[step.id], prices) or belief.repair_probability[step.id] >= prices.proof_share

"""The belief laid out as an abstract troubleshooting problem: states, access bits, options, prices."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.handbook.entries import Check, Repair
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.accessbits import AccessBits
from firstpull.reasoning.acts import ComplaintAct, RepairAct
from firstpull.reasoning.beforehand import missing
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.options import Option, repair_option
from firstpull.reasoning.planner.problem import Allowed, Kind, Problem, build_problem
from firstpull.reasoning.planner.value import KnownStateCost
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.sifting import OUTSIDE, STEP_MINUTES, Done, Telling, sifted
from firstpull.reasoning.table import LiveState, live_states, merged
from firstpull.reasoning.worlds import SHARED, Row
from firstpull.safety.interlocks import judge
from firstpull.safety.state import MachineState, at_rest

FloatArray = NDArray[np.float64]

LEAST_LIVE = 2e-3
MOST_LIVE = 36
MOST_CHECKS = 16  # the best for their minutes; the planner looks ahead over these
PASSES_UNKNOWN = 0.1  # a machine with a fault nobody knows passes its proof this often: judgement
RELEASE_NOTICES = 0.5  # of faults whose complaint does not show when tried, the share that the release proofs notice
MOST_FITTED = 2  # times that a dear part is fitted to one machine: common practice, no source
PROOF_MINUTES = 8.0  # the complaint tried again and the release proofs: judgement


@dataclass(frozen=True, eq=False)
class Laid:
    """A problem and what its numbers stand for.

    `more` are checks that tell less for their minutes than its own, `waits` what must be done before a repair.
    """

    problem: Problem
    states: tuple[LiveState, ...]
    checks: tuple[Telling, ...]
    more: tuple[Telling, ...]
    repairs: tuple[Option, ...]
    waits: tuple[tuple[Option, ...], ...]
    items: tuple[str, ...]
    groups: NDArray[np.int64]


def nothing_done(_check: Check, _place: Arrangement) -> bool:
    """No check has been read yet."""
    return False


def lay_out(
    belief: Belief, state: MachineState, prices: Prices, done: Done = nothing_done, also: str = ""
) -> Laid:
    """The planner's problem as things stand.

    States are what may be wrong now (the likelier ones), what repairs would leave of them, and what the handbook
    does not know. Options that are done, tell nothing or need a tool the shop lacks are left out. `also` is a check
    that is to be among the problem's own, however little it tells for its minutes.
    """
    book = belief.walk.book
    states = _states(belief)
    share = np.array([s.probability for s in states])
    share /= share.sum()
    repairs = [(r, repair_option(book, r)) for r in _repairs(belief, prices, states)]
    waits = [missing(book, prices, belief.acts, r) or () for r, _ in repairs]
    groups = _groups(states, [r for r, _ in repairs])
    items = tuple(book.access)
    bits = AccessBits(items, state, book)
    telling = sifted(belief, bits, prices, states, done, groups)
    own = [rank < MOST_CHECKS or t.option.id == also for rank, t in enumerate(telling)]
    checks = [t for t, mine in zip(telling, own, strict=True) if mine]
    more = [t for t, mine in zip(telling, own, strict=True) if not mine]
    problem = build_problem(
        prior=share,
        healthy=next(i for i, s in enumerate(states) if not s.faults),
        end_cost=_end_costs(book, prices, len(states)),
        open_cost=[bits.price(i)[0] for i in items],
        close_cost=[bits.price(i)[1] for i in items],
        initially=bits.of(state.away),
        check_cost=[_check_cost(book, bits, prices, c.option) + c.before for c in checks],
        check_open=[bits.opened(c.option) for c in checks],
        check_closed=[bits.shut(c.option) for c in checks],
        likelihood=_padded([merged(c.table, share) for c in checks], len(states)),
        repair_cost=[_repair_cost(book, bits, prices, r, o) + _first_cost(book, bits, prices, first)
                     for (r, o), first in zip(repairs, waits, strict=True)],
        repair_open=[bits.opened(o) for _, o in repairs],
        repair_closed=[bits.shut(o) for _, o in repairs],
        successor=[_successor(states, r) for r, _ in repairs] or None,
        success=[r.takes for r, _ in repairs],
        proof_cost=PROOF_MINUTES,
        proof_closed=(1 << len(items)) - 1,
        proof_pass=_passing(belief, states),
        end_closed=None,
        access_ids=items,
        check_ids=[c.option.id for c in checks],
        repair_ids=[r.id for r, _ in repairs],
        end_ids=["end"],
        allowed=_allowed(book, bits, [c.option for c in checks], [o for _, o in repairs]),
    )
    problem = replace(problem, comeback_cost=_comebacks(problem, prices))
    return Laid(
        problem, tuple(states), tuple(checks), tuple(more), tuple(o for _, o in repairs), tuple(waits),
        items, groups,
    )


def _comebacks(problem: Problem, prices: Prices) -> FloatArray:
    """What it costs when a machine comes back, by its state: the trouble, and the job that is then still to be done."""
    honest = (np.arange(len(problem.prior)) == problem.healthy).astype(np.float64)
    again = KnownStateCost(replace(problem, proof_pass=honest)).row(0)
    return np.asarray(prices.comeback_minutes + PROOF_MINUTES + again)


def _states(belief: Belief) -> list[LiveState]:
    """Live states, what repairs would leave of them, and what is not in the handbook."""
    states = live_states(belief, LEAST_LIVE, MOST_LIVE)
    known = {s.faults for s in states}
    even = np.full(belief.scales.worlds.count, 1.0 / belief.scales.worlds.count)
    for live in list(states):
        for repair in belief.walk.book.repairs.values():
            left = live.faults - repair.ends
            if left not in known:
                known.add(left)
                states.append(LiveState(left, 0.0, even))
    states.append(LiveState(OUTSIDE, max(belief.outside, 1e-6), even))
    return states


def _passing(belief: Belief, states: Sequence[LiveState]) -> list[float]:
    """Chance that the complaint is gone and the machine passes, by state.

    A fault that shows seldom may pass, which is what comebacks are made of.
    """
    said = list(dict.fromkeys(a.complaint for a in belief.acts if isinstance(a, ComplaintAct)))
    renewals = belief.walk.renewals()
    known = [s for s in states if s.faults != OUTSIDE]
    machines = [(Row(s.faults, renewals), SHARED) for s in known]
    gone = [np.ones(belief.scales.worlds.count) for _ in known]
    for complaint in said:
        chances = belief.scales.complaint(ComplaintAct(complaint, False), machines, True)
        gone = [g * c for g, c in zip(gone, chances, strict=True)]
    passing = {s.faults: float(s.weight @ g) for s, g in zip(known, gone, strict=True)}
    return [
        PASSES_UNKNOWN if s.faults == OUTSIDE
        else passing[s.faults] * ((1 - RELEASE_NOTICES) if s.faults else 1.0)
        for s in states
    ]


def telling_checks(
    belief: Belief, state: MachineState, prices: Prices, done: Done = nothing_done
) -> list[Telling]:
    """All check options that tell anything as things stand, the most telling for their minutes first."""
    states = _states(belief)
    repairs = [repair_option(belief.walk.book, r) for r in _repairs(belief, prices, states)]
    groups = _groups(states, [belief.walk.book.repairs[r.id] for r in repairs])
    bits = AccessBits(tuple(belief.walk.book.access), state, belief.walk.book)
    return [t for t in sifted(belief, bits, prices, states, done, groups) if t.lead is None]


def _repairs(belief: Belief, prices: Prices, states: Sequence[LiveState]) -> list[Repair]:
    """Repairs that would cure what may be there, unlocked where they are locked, if all before them can be done.

    A dear part that was fitted twice and did not help is not fitted a third time: then something else is wrong.
    """
    book = belief.walk.book
    alive = frozenset().union(*(s.faults for s in states if s.probability > 0))
    fitted = Counter(a.repair for a in belief.acts if isinstance(a, RepairAct) and a.by == "shop")
    return [
        r for r in book.repairs.values()
        if r.ends & alive and r.id not in prices.masked and (not r.locked or r.id in prices.unlocked)
        and missing(book, prices, belief.acts, r) is not None
        and (fitted[r.id] < MOST_FITTED or not is_dear(r, prices))
    ]


def is_dear(repair: Repair, prices: Prices) -> bool:
    """Whether the parts of a repair cost so much that it wants proof first.

    Args:
        repair: the repair [1], scalar.
        prices: the shop's prices [1], scalar.

    Returns:
        Whether it does [1], scalar.

    Valid: any repair.
    Source: the shop's own rule.
    """
    return sum(p.usual for p in repair.parts) > prices.proof_price


def _successor(states: Sequence[LiveState], repair: Repair) -> list[int]:
    place = {s.faults: i for i, s in enumerate(states)}
    return [place.get(s.faults - repair.ends, i) for i, s in enumerate(states)]


def _end_costs(book: ClassBook, prices: Prices, states: int) -> FloatArray:
    """Giving up loses a share of what the machine is worth, whatever is wrong with it, shape (1, S)."""
    return np.full((1, states), prices.minutes(prices.worth_share * book.machine.worth[1]))


def _check_cost(book: ClassBook, bits: AccessBits, prices: Prices, option: Option) -> float:
    return STEP_MINUTES + option.minutes + prices.waiting_weight * option.waiting + bits.detour(option)


def _repair_cost(
    book: ClassBook, bits: AccessBits, prices: Prices, repair: Repair, option: Option
) -> float:
    parts = prices.minutes(sum(p.usual for p in repair.parts))
    work = STEP_MINUTES + option.minutes + prices.waiting_weight * option.waiting
    return parts + work + bits.detour(option)


def _first_cost(book: ClassBook, bits: AccessBits, prices: Prices, first: Sequence[Option]) -> float:
    """What a repair has to wait for, as if each were done from how the machine stands."""
    return sum(
        _check_cost(book, bits, prices, o) + bits.minutes(o) if o.kind == "check"
        else _repair_cost(book, bits, prices, book.repairs[o.id], o) + bits.minutes(o)
        for o in first
    )


def _padded(tables: Sequence[FloatArray], states: int) -> FloatArray:
    most = max((len(t) for t in tables), default=1)
    padded = np.zeros((len(tables), most, states))
    for i, table in enumerate(tables):
        padded[i, : len(table)] = table / table.sum(axis=0, keepdims=True)
    return padded


def _allowed(book: ClassBook, bits: AccessBits, checks: Sequence[Option], repairs: Sequence[Option]) -> Allowed:
    rest = at_rest(book.access)
    seen: dict[tuple[str, int, int], bool] = {}

    def allowed(kind: Kind, index: int, mask: int) -> bool:
        key = (kind, index, mask)
        if key not in seen:
            deed = checks[index].deed if kind == "check" else repairs[index].deed if kind == "repair" else None
            stands = MachineState(rest.items, bits.away(mask))
            seen[key] = deed is None or judge(stands.tokens, deed, book.sizes).allowed
        return seen[key]

    return allowed


def _groups(states: Sequence[LiveState], repairs: Sequence[Repair]) -> NDArray[np.int64]:
    """Which states call for the same repairs; telling these apart is of no use to anybody."""
    calls = [
        (s.faults == OUTSIDE, tuple(i for i, r in enumerate(repairs) if r.ends & s.faults), not s.faults)
        for s in states
    ]
    return np.array([calls.index(c) for c in calls], dtype=np.int64)

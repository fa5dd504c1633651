"""The abstract troubleshooting problem: arrays only, no engines, no pages.

States are what the machine can be in; a hypothesis is a state with a prior probability. Checks show something about
the present state and leave it alone; repairs move states to other states; the proof ends the job when it passes; an
end action (giving up, or several kinds of it) always ends the job. Access items are bits of one whole number: bit a
set means item a is open. Before an action everything it needs open is opened and everything it needs closed is
closed, each at its price; the rest stays as it is.

How to build one from arrays (two faults, one check with two outcomes, one cover)::

    problem = build_problem(
        prior=[0.0, 0.7, 0.3],  # over states; state 0 is healthy
        healthy=0,
        open_cost=[3.0],
        close_cost=[1.0],
        initially=0b0,
        check_cost=[2.0],
        check_open=[0b1],  # the check needs item 0 open
        likelihood=[
            [
                [0.9, 0.1, 0.9],  # (check, outcome, state)
                [0.1, 0.9, 0.1],
            ]
        ],
        repair_cost=[5.0, 8.0],
        successor=[[0, 0, 2], [0, 1, 0]],  # (repair, state): the state it leaves when it takes
        proof_cost=1.0,
        proof_closed=0b1,
        end_cost=200.0,
    )

Everything not named has a default (no access items, no checks, repairs that always take, a proof that passes exactly
when healthy, no price of a comeback). `allowed(kind, index, access)` may forbid an action in the access state in which
it would be done; bounds stay valid because fewer actions can only raise the least cost.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from firstpull.base.errors import FirstpullError

Kind = Literal["check", "repair", "proof", "end"]
Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Allowed = Callable[[Kind, int, int], bool]

MOST_ACCESS_ITEMS = 60  # the bits of one 64-bit whole number, with room for the sign


@dataclass(frozen=True)
class Action:
    """One thing to do: its kind, its number among its kind, and its id."""

    kind: Kind
    index: int
    id: str


@dataclass(frozen=True, eq=False)
class Problem:
    """One troubleshooting problem; shapes: A access items, S states, C checks, O outcomes, R repairs, E ends."""

    prior: Floats  # (S,) probability of each state at the start
    healthy: int
    open_cost: Floats  # (A,)
    close_cost: Floats  # (A,)
    initially: int  # bits of the access items that start open
    check_cost: Floats  # (C,)
    check_open: Ints  # (C,) bits needed open
    check_closed: Ints  # (C,) bits needed closed
    check_once: NDArray[np.bool_]  # (C,) false: may be repeated, each time independent given the state
    likelihood: Floats  # (C, O, S); outcomes a check does not have are rows of zeros
    check_outcomes: Ints  # (C,) how many outcomes a check has
    repair_cost: Floats  # (R,)
    repair_open: Ints  # (R,)
    repair_closed: Ints  # (R,)
    successor: Ints  # (R, S) the state left when the repair takes
    success: Floats  # (R,) chance that it takes
    proof_cost: float
    proof_open: int
    proof_closed: int
    proof_pass: Floats  # (S,) chance of passing
    comeback_cost: Floats  # (S,) paid when the proof passed on a state that is not healthy
    end_cost: Floats  # (E, S) price of ending so, state by state
    end_closed: Ints  # (E,)
    state_ids: tuple[str, ...]
    access_ids: tuple[str, ...]
    check_ids: tuple[str, ...]
    repair_ids: tuple[str, ...]
    end_ids: tuple[str, ...]
    name: str = ""
    units: str = ""
    allowed: Allowed | None = None
    actions: tuple[Action, ...] = field(init=False)  # checks, then repairs, then the proof, then the ends

    def __post_init__(self) -> None:
        found = [Action("check", i, name) for i, name in enumerate(self.check_ids)]
        found += [Action("repair", i, name) for i, name in enumerate(self.repair_ids)]
        found.append(Action("proof", 0, "proof"))
        found += [Action("end", i, name) for i, name in enumerate(self.end_ids)]
        object.__setattr__(self, "actions", tuple(found))

    @property
    def outcomes(self) -> int:
        """The most outcomes any check has."""
        return int(self.likelihood.shape[1])

    def number(self, kind: Kind, index: int) -> int:
        """Where an action stands in `actions`."""
        checks, repairs = len(self.check_ids), len(self.repair_ids)
        return index + {"check": 0, "repair": checks, "proof": checks + repairs, "end": checks + repairs + 1}[kind]


def build_problem(
    *,
    prior: ArrayLike,
    healthy: int = 0,
    end_cost: ArrayLike,
    open_cost: ArrayLike = (),
    close_cost: ArrayLike = (),
    initially: int = 0,
    check_cost: ArrayLike = (),
    check_open: ArrayLike | None = None,
    check_closed: ArrayLike | None = None,
    check_once: ArrayLike | None = None,
    likelihood: ArrayLike | None = None,
    check_outcomes: ArrayLike | None = None,
    repair_cost: ArrayLike = (),
    repair_open: ArrayLike | None = None,
    repair_closed: ArrayLike | None = None,
    successor: ArrayLike | None = None,
    success: ArrayLike | None = None,
    proof_cost: float = 0.0,
    proof_open: int = 0,
    proof_closed: int = 0,
    proof_pass: ArrayLike | None = None,
    comeback_cost: ArrayLike = 0.0,
    end_closed: ArrayLike | None = None,
    state_ids: Sequence[str] | None = None,
    access_ids: Sequence[str] | None = None,
    check_ids: Sequence[str] | None = None,
    repair_ids: Sequence[str] | None = None,
    end_ids: Sequence[str] | None = None,
    name: str = "",
    units: str = "",
    allowed: Allowed | None = None,
) -> Problem:
    """Build a problem from arrays, filling in what is not said.

    Args:
        prior: probability of each state, scaled to sum to one [1], shape (S,).
        healthy: which state is healthy [1], scalar.
        end_cost: price of each way of ending, one figure, one an end, or one an end and state [cost], shape (E, S).
        open_cost: price of opening an access item [cost], shape (A,).
        close_cost: price of closing it [cost], shape (A,).
        initially: bits of the items open at the start [1], scalar.
        check_cost: price of a check without access [cost], shape (C,).
        check_open: bits a check needs open [1], shape (C,).
        check_closed: bits a check needs closed [1], shape (C,).
        check_once: whether a check is done at most once [1], shape (C,).
        likelihood: chance of an outcome in a state, unused outcomes zero [1], shape (C, O, S).
        check_outcomes: how many outcomes a check has, all of them unless said [1], shape (C,).
        repair_cost: price of a repair without access, parts included [cost], shape (R,).
        repair_open: bits a repair needs open [1], shape (R,).
        repair_closed: bits a repair needs closed [1], shape (R,).
        successor: the state a repair leaves when it takes [1], shape (R, S).
        success: chance that a repair takes [1], shape (R,).
        proof_cost: price of the proof without access [cost], scalar.
        proof_open: bits the proof needs open [1], scalar.
        proof_closed: bits the proof needs closed [1], scalar.
        proof_pass: chance of passing in a state [1], shape (S,).
        comeback_cost: paid when the proof passed on a faulty state [cost], shape (S,) or one for all.
        end_closed: bits an end needs closed [1], shape (E,).
        state_ids: names of the states [1], shape (S,).
        access_ids: names of the access items [1], shape (A,).
        check_ids: names of the checks [1], shape (C,).
        repair_ids: names of the repairs [1], shape (R,).
        end_ids: names of the ends [1], shape (E,).
        name: what the problem is called [1], scalar.
        units: the unit of cost in words [1], scalar.
        allowed: says whether (kind, index, access bits) may be done; None allows all [1], scalar.

    Returns:
        The problem, frozen, its arrays checked against one another [1], scalar.

    Raises:
        FirstpullError: a shape, a probability, a price or an index is out of range.

    Valid:
        up to 60 access items; prices not negative; probabilities in 0..1.

    Source:
        judgement (the form of the problem follows Heckerman, Breese and Rommelse, CACM 38(3), 1995, widened by
        access states).
    """
    start = np.asarray(prior, dtype=np.float64)
    states, items = len(start), np.asarray(open_cost, dtype=np.float64)
    checks, repairs = (np.asarray(check_cost, dtype=np.float64), np.asarray(repair_cost, dtype=np.float64))
    prices = np.asarray(end_cost, dtype=np.float64)
    ends = prices if prices.ndim == 2 else np.tile(np.atleast_1d(prices)[:, None], (1, states))
    shown = np.zeros((len(checks), 1, states)) if likelihood is None else np.asarray(likelihood, dtype=np.float64)
    passing = np.eye(1, states, healthy)[0] if proof_pass is None else np.asarray(proof_pass, dtype=np.float64)
    stay = np.tile(np.arange(states), (len(repairs), 1))
    total = float(start.sum()) if states else 0.0
    problem = Problem(
        prior=start / total if total > 0.0 else start,
        healthy=int(healthy),
        open_cost=items,
        close_cost=_filled(close_cost if len(items) else (), len(items), np.float64, 0),
        initially=int(initially),
        check_cost=checks,
        check_open=_filled(check_open, len(checks), np.int64, 0),
        check_closed=_filled(check_closed, len(checks), np.int64, 0),
        check_once=_filled(check_once, len(checks), np.bool_, True),
        likelihood=shown,
        check_outcomes=_filled(check_outcomes, len(checks), np.int64, shown.shape[1]),
        repair_cost=repairs,
        repair_open=_filled(repair_open, len(repairs), np.int64, 0),
        repair_closed=_filled(repair_closed, len(repairs), np.int64, 0),
        successor=stay if successor is None else np.asarray(successor, dtype=np.int64).reshape(len(repairs), -1),
        success=_filled(success, len(repairs), np.float64, 1.0),
        proof_cost=float(proof_cost),
        proof_open=int(proof_open),
        proof_closed=int(proof_closed),
        proof_pass=passing,
        comeback_cost=np.broadcast_to(np.asarray(comeback_cost, dtype=np.float64), (states,)),
        end_cost=ends,
        end_closed=_filled(end_closed, len(ends), np.int64, 0),
        state_ids=_named(state_ids, "state", states),
        access_ids=_named(access_ids, "access", len(items)),
        check_ids=_named(check_ids, "check", len(checks)),
        repair_ids=_named(repair_ids, "repair", len(repairs)),
        end_ids=_named(end_ids, "give_up", len(ends)) if len(ends) != 1 or end_ids else ("give_up",),
        name=name,
        units=units,
        allowed=allowed,
    )
    _refuse_nonsense(problem)
    return problem


def _filled(values: ArrayLike | None, count: int, kind: type, default: Any) -> NDArray[Any]:
    if values is None or (np.size(values) == 0 and count):
        return np.full(count, default, dtype=kind)
    return np.array(values, dtype=kind).reshape(-1)


def _named(ids: Sequence[str] | None, word: str, count: int) -> tuple[str, ...]:
    return tuple(ids) if ids is not None else tuple(f"{word}-{i}" for i in range(count))


def _refuse_nonsense(p: Problem) -> None:
    """Raise on the first thing that does not fit; files get the fuller list from the reader."""
    states, items, checks, repairs, ends = (
        len(p.prior),
        len(p.open_cost),
        len(p.check_cost),
        len(p.repair_cost),
        len(p.end_cost),
    )
    shapes = {
        "close_cost": (p.close_cost.shape, (items,)),
        "check_open": (p.check_open.shape, (checks,)),
        "check_closed": (p.check_closed.shape, (checks,)),
        "check_once": (p.check_once.shape, (checks,)),
        "likelihood": ((p.likelihood.shape[0], p.likelihood.shape[-1]), (checks, states)),
        "check_outcomes": (p.check_outcomes.shape, (checks,)),
        "repair_open": (p.repair_open.shape, (repairs,)),
        "repair_closed": (p.repair_closed.shape, (repairs,)),
        "successor": (p.successor.shape, (repairs, states)),
        "success": (p.success.shape, (repairs,)),
        "proof_pass": (p.proof_pass.shape, (states,)),
        "end_cost": (p.end_cost.shape, (ends, states)),
        "end_closed": (p.end_closed.shape, (ends,)),
        "ids": (
            (len(p.state_ids), len(p.access_ids), len(p.check_ids), len(p.repair_ids), len(p.end_ids)),
            (states, items, checks, repairs, ends),
        ),
    }
    for what, (found, right) in shapes.items():
        if found != right:
            raise FirstpullError(f"{what} has shape {found}", where=what, right=f"shape {right}")
    if items > MOST_ACCESS_ITEMS:
        raise FirstpullError(f"{items} access items", where="open_cost", right=f"at most {MOST_ACCESS_ITEMS}")
    if ends == 0 or states == 0 or not 0 <= p.healthy < states:
        raise FirstpullError("no end, no state, or no healthy state", where="problem", right="at least one of each")
    bits = np.concatenate([p.check_open, p.check_closed, p.repair_open, p.repair_closed, p.end_closed])
    bits = np.append(bits, [p.initially, p.proof_open, p.proof_closed])
    if np.any(bits < 0) or np.any(bits >> items):
        raise FirstpullError("a bit stands for no access item", where="access bits", right=f"bits 0 to {items - 1}")
    both = [p.check_open & p.check_closed, p.repair_open & p.repair_closed, np.array([p.proof_open & p.proof_closed])]
    if np.any(np.concatenate(both)):
        raise FirstpullError("an item is needed open and closed at once", where="access bits", right="one of the two")
    costs = [p.open_cost, p.close_cost, p.check_cost, p.repair_cost, p.end_cost.ravel()]
    prices = np.concatenate([*costs, [p.proof_cost], p.comeback_cost])
    if not np.all(np.isfinite(prices)) or np.any(prices < 0.0):
        raise FirstpullError("a price is negative or not a number", where="costs", right="0 or more")
    chances = np.concatenate([p.prior, p.likelihood.ravel(), p.success, p.proof_pass])
    if not np.all((chances >= 0.0) & (chances <= 1.0 + 1e-9)) or abs(p.prior.sum() - 1.0) > 1e-9:
        raise FirstpullError("a probability lies outside 0..1", where="probabilities", right="0 to 1")
    if checks and np.any(np.abs(p.likelihood.sum(axis=1) - 1.0) > 1e-6):
        raise FirstpullError("outcomes do not sum to one", where="likelihood", right="sum 1 over outcomes, each state")
    if np.any((p.successor < 0) | (p.successor >= states)):
        raise FirstpullError("a repair leaves no known state", where="successor", right=f"0 to {states - 1}")

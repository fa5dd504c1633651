"""Looks one or two steps ahead with a leaf of known-state cost plus a price for what is not yet known.

The leaf after a step is F + price * (share not healthy) * H(group | not healthy) + what telling healthy from not
healthy will cost: the lesser of a proof that may fail and the price of that bit. Groups are states with one cheapest
cure. The price of a bit is what the information bound found at the start, scaled.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from firstpull.reasoning.planner.bound import InformationBound
from firstpull.reasoning.planner.children import unused_checks
from firstpull.reasoning.planner.doubt import RepairDoubt
from firstpull.reasoning.planner.fixed import FixedPlans
from firstpull.reasoning.planner.model import IMPOSSIBLE, Here, Model
from firstpull.reasoning.planner.problem import Action, Floats, Ints
from firstpull.reasoning.planner.value import entropy_bits

BEAM = 6
CHANGES = 3  # steps that change the machine, or the proof, looked at again beyond the beam
LEVELLINGS = 64  # rounds at most in which each step is held against the best of the others
LEVELLED = 1e-3  # share of the best cost by which no step changes any more when that is done (judgement)
PRICE_SCALE = 1.7  # of the bound's price of a bit; tuned on seeds below 10,000 of the benchmark


@dataclass(frozen=True)
class Ranked:
    """A step considered: its expected cost to the end, and how its outcomes split (index, chance)."""

    action: Action
    value: float
    split: tuple[tuple[int, float], ...]


@dataclass(frozen=True)
class _Again:
    """Price of a step, chances of its outcomes, what comes after each, and how each moves the belief."""

    price: float
    chance: Floats
    later: Floats
    dearer: Floats  # how much dearer the states that became likelier are when they are known
    moved: Floats  # total variation; infinite where the machine itself is changed


class _Level:
    """Steps looked at again, side by side: rows are steps, columns their outcomes, chance 0 where there are fewer."""

    def __init__(self, seen: Sequence[_Again]) -> None:
        most = max((len(one.chance) for one in seen), default=0)

        def side_by_side(column: Callable[[_Again], Floats], empty: float) -> Floats:
            found = np.full((len(seen), most), empty)
            for row, one in zip(found, seen, strict=True):
                row[: len(one.chance)] = column(one)
            return found

        self.price = np.array([one.price for one in seen])
        self.chance = side_by_side(lambda one: one.chance, 0.0)
        self.later = side_by_side(lambda one: one.later, 0.0)
        self.dearer = side_by_side(lambda one: one.dearer, 0.0)
        self.moved = side_by_side(lambda one: one.moved, np.inf)

    def values(self, others: Floats | None = None, span: float = 0.0) -> Floats:
        """Expected costs, where the best other step of each costs `others` and finding out what states are costs up to
        `span` more in one than in another.
        """
        later = self.later
        if others is not None and span:
            later = np.maximum(later, others[:, None] + self.dearer - span * self.moved)
        found: Floats = self.price + (self.chance * later).sum(axis=1)
        return found


class LookAhead:
    """Values of the next steps of one model."""

    def __init__(
        self, model: Model, price: float | None = None, bound: InformationBound | None = None,
        fixed: FixedPlans | None = None,
    ) -> None:
        self.model, self._bound, self._fixed = model, bound, fixed or FixedPlans(model)
        p = model.problem
        self._group = _groups_of(model)
        member = np.zeros((len(p.prior), int(self._group.max()) + 1))
        member[np.arange(len(p.prior)), self._group] = 1.0
        self._member = member[:, 1:]  # group 0 is healthy
        self._doubt = RepairDoubt(model, self._group)
        self._shown = p.likelihood.reshape(-1, len(p.prior)).T.copy()
        self._noise = self._group_noise(member)
        self._failed: dict[int, Floats] = {}
        self.price = price if price is not None else self._found_price() * PRICE_SCALE

    def values(self, beliefs: Floats, access: int, unused: Floats) -> Floats:
        """Depth one: expected cost to the end of every action, infinite where useless, shape (N, actions)."""
        model, here = self.model, self.model.at(access)
        found = beliefs @ here.then_known.T
        found[:, here.allowed == 0] = np.inf
        sick = beliefs @ model.faulty
        masses = beliefs @ self._member
        doubt = _spread(masses)  # sick * H(group | sick), bits
        if model.checks:
            tells = self.tells(beliefs) * unused
            found[:, : model.checks] += self.price * np.maximum(doubt[:, None] - tells, 0.0)
            found[:, : model.checks] += self._telling(sick, beliefs @ here.failed_proof)[:, None]
            found[:, : model.checks][tells <= 1e-9] = np.inf
        if model.repairs:
            found[:, model.checks : model.proof] += self._after_repairs(beliefs, masses, here)
        failing = beliefs * (1.0 - model.problem.proof_pass)
        found[:, model.proof] += self.price * _spread(failing @ self._member)
        found[beliefs @ model.problem.proof_pass <= IMPOSSIBLE, model.proof] = np.inf
        return found

    def rank(self, belief: Floats, access: int, used: int, depth: int = 2, beam: int = BEAM) -> list[Ranked]:
        """The steps considered, best first; depth 2 looks again after each of the `beam` most promising ones."""
        model = self.model
        unused = unused_checks(model, [used])
        first = self.values(belief[None], access, unused)[0]
        order = [int(a) for a in np.argsort(first, kind="stable") if np.isfinite(first[a])]
        if depth > 1:
            ends = [a for a in order if a > model.proof]
            going = [a for a in order if a <= model.proof]
            # Always with them what changes the machine: else all that is looked at may only put that off.
            looked = going[:beam] + [a for a in going[beam:] if a >= model.checks][:CHANGES]
            seen = {a: self._again(belief, access, unused, a) for a in looked}
            first[looked] = self._levelled(seen, [float(first[a]) for a in ends], self._fixed.span(belief, access))
            order = sorted(looked + ends, key=lambda a: float(first[a]))
        return [Ranked(model.problem.actions[a], float(first[a]), self.split(belief, a)) for a in order]

    def choose(self, belief: Floats, access: int, used: int, depth: int = 2, beam: int = BEAM) -> int:
        """The number of the best action."""
        action = self.rank(belief, access, used, depth, beam)[0].action
        return self.model.problem.number(action.kind, action.index)

    def split(self, belief: Floats, action: int) -> tuple[tuple[int, float], ...]:
        """How likely each outcome of an action is."""
        model, p = self.model, self.model.problem
        if action < model.checks:
            chances = p.likelihood[action] @ belief
            return tuple((k, float(c)) for k, c in enumerate(chances) if c > IMPOSSIBLE)
        if action == model.proof:
            passing = float(belief @ p.proof_pass)
            return ((0, 1.0 - passing), (1, passing))
        return ((0, 1.0),)

    def tells(self, beliefs: Floats) -> Floats:
        """Bits each check gives about the group, over the part that is not healthy, times that part, (N, C)."""
        n, checks = len(beliefs), self.model.checks
        ill = beliefs * self.model.faulty
        sick = ill.sum(axis=1)
        seen = (ill @ self._shown).reshape(n, checks, -1)
        doubt = entropy_bits(seen) + (sick * np.log2(np.maximum(sick, 1e-300)))[:, None]
        found: Floats = np.maximum(doubt - beliefs @ self._member @ self._noise, 0.0)
        return found

    # ---- parts --------------------------------------------------------------------------------------------------

    def _levelled(self, seen: dict[int, _Again], ends: list[float], span: float) -> Floats:
        """Depth-two values that no step improves by putting things off.

        What comes after a step that changes nothing costs what the best other step costs now; a depth-one value there
        would be kinder. Any one plan costs a sum over states: what these would cost if they were known, and what the
        plan spends beyond. So between beliefs the least cost differs by the known costs, and by no more than their
        distance times the span of what is spent beyond, here that of the best plan that looks at nothing.
        """
        level = _Level(list(seen.values()))
        found = level.values()
        for _ in range(LEVELLINGS):
            best = np.sort(np.concatenate([found, ends]))[:2]
            if len(best) < 2:
                break
            before, found = found, level.values(np.where(found == best[0], best[1], best[0]), span)
            if np.abs(found - before).max() < LEVELLED * best[0]:
                break
        return found

    def _again(self, belief: Floats, access: int, unused: Floats, a: int) -> _Again:
        """Depth two of one action: its price, and the best depth-one value after each outcome."""
        model, here = self.model, self.model.at(access)
        if a < model.checks:
            joint = model.problem.likelihood[a] * belief
        elif a < model.proof:
            joint = model.after_repairs(belief[None])[0, a - model.checks][None]
        else:
            joint = (belief * (1.0 - model.problem.proof_pass))[None]
        chance = joint.sum(axis=1)
        likely = chance > IMPOSSIBLE
        cost = float(here.cost[a]) + (float(belief @ model.false_pass) if a == model.proof else 0.0)
        if not likely.any():
            return _Again(cost, np.empty(0), np.empty(0), np.empty(0), np.empty(0))
        left = np.repeat(unused, int(likely.sum()), axis=0)
        if a < model.checks and model.problem.check_once[a]:
            left[:, a] = 0.0
        after = joint[likely] / chance[likely, None]
        later = self.values(after, int(here.after[a]), left).min(axis=1)
        moved = 0.5 * np.abs(after - belief).sum(axis=1) if a < model.checks else np.full(len(after), np.inf)
        return _Again(cost, chance[likely], later, (after - belief) @ here.known, moved)

    def _telling(self, sick: Floats, failed: Floats) -> Floats:
        """What telling healthy from not healthy will cost."""
        both = np.stack([sick, np.maximum(1.0 - sick, 0.0)], axis=-1)
        found: Floats = np.minimum(failed, self.price * entropy_bits(both))
        return found

    def _after_repairs(self, beliefs: Floats, masses: Floats, here: Here) -> Floats:
        """The information part of the leaf after each repair, shape (N, R)."""
        sick, spread = self._doubt.after(beliefs, masses)
        failed = beliefs @ self._failed_after(here)
        return self.price * spread + self._telling(sick, np.maximum(failed, 0.0))

    def _failed_after(self, here: Here) -> Floats:
        """What a failing proof costs after each repair, by the state before the repair, shape (S, R)."""
        found = self._failed.get(here.access)
        if found is None:
            model, p = self.model, self.model.problem
            after = here.after[model.checks : model.proof]
            proving = (after | p.proof_open) & ~p.proof_closed
            places, which = np.unique(after, return_inverse=True)
            shut, opened = np.array([p.proof_closed]), np.array([p.proof_open])
            moves = np.array([model.moves(int(a), opened, shut)[0] for a in places])[which]
            rows = model.known.rows(proving.tolist()) - model.known.rows(after.tolist())
            later = np.maximum(rows + (p.proof_cost + moves)[:, None], 0.0) * model.faulty
            r, s, to = model.moved_repair, model.moved_state, model.moved_to
            found = later.copy()
            found[r, s] += model.moved_share * (later[r, to] - later[r, s])
            found = self._failed[here.access] = found.T.copy()
        return found

    def _group_noise(self, member: Floats) -> Floats:
        """Entropy of each check within each group, states weighted as at the start, shape (K, C)."""
        p = self.model.problem
        weight = np.maximum(p.prior, 1e-9)
        mixed = np.einsum("cos,sk->kco", p.likelihood * weight, member) / (weight @ member)[:, None, None]
        return entropy_bits(mixed)[1:]

    def _found_price(self) -> float:
        p, model = self.model.problem, self.model
        bound = self._bound if self._bound is not None else InformationBound(model)
        unused = np.ones((1, model.checks))
        _, price = bound.low(p.prior[None], [model.at(p.initially)], np.zeros(1, np.int64), unused)
        return float(price[0])


def _spread(masses: Floats) -> Floats:
    """Mass times the entropy of its split, for rows that need not sum to one."""
    whole = masses.sum(axis=-1)
    found: Floats = entropy_bits(masses) + whole * np.log2(np.maximum(whole, 1e-300))
    return np.maximum(found, 0.0)


def _groups_of(model: Model) -> Ints:
    """Healthy is group 0; other states share a group where one repair is the cheapest cure of each of them."""
    p = model.problem
    label = np.arange(len(p.prior)) + 1
    label[p.healthy] = 0
    if model.repairs:
        cures = (p.successor == p.healthy) & model.faulty & (p.success > 0.0)[:, None]
        price = model.at(p.initially).cost[model.checks : model.proof] / np.maximum(p.success, 1e-9)
        best = np.where(cures, price[:, None], np.inf).argmin(axis=0)
        cured = cures.any(axis=0)
        label[cured] = len(p.prior) + 1 + best[cured]
    return np.unique(label, return_inverse=True)[1].astype(np.int64)

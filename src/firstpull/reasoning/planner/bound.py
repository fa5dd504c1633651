"""A lower bound on the cost of every policy: the known-state cost plus what the missing information must cost.

Take the part of the belief in simple states: faulty states that every repair either leaves as they are or makes
healthy. Which part is present is told for free (a gift, so the bound stays low), and after each repair a free perfect
test tells whether the machine is healthy. Group simple states by repairs that overlap; to end well the group must
become known. Put one price mu on a bit. Then every policy costs at least

    F + share * max over mu of [ mu H(group) - sum over checks (mu Cap - c)+ min(1, I / Cap)
                                 - sum over groups p G(mu) - D(mu) ]

because (a) all readings of a check that is done once give at most its present information I about the state, since
readings are independent given the state, and at most its capacity Cap when done; (b) useless repairs of a group with
share p, done with mass w, and failed tries of useful ones with mass u, give at most the entropy function
(p + w + u) h2(p / (p + w + u)), and only the useless ones cost more than F; (c) ending with mass q without knowing
leaves at most what D(mu) = max over ends of mu log2 sum over groups 2^(-excess / mu) allows, where excess is what that
end costs above F. A check that may be repeated forbids prices above c / Cap. A proof that can pass on a faulty state
is one more end, and its failures are a check that may be repeated.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from firstpull.reasoning.planner.model import Here, Model
from firstpull.reasoning.planner.problem import Floats
from firstpull.reasoning.planner.value import entropy_bits

PRICES = 24  # prices of a bit tried; any price is valid, more are only tighter (judgement)
TINY = 1e-300
ROUNDS, LARGE_ROUNDS, LARGE_TABLE = (60, 6, 40_000)  # effort on capacities; fewer rounds are only looser (judgement)

States = NDArray[np.int64]


class InformationBound:
    """The bound for one model; `low` takes many beliefs at once."""

    def __init__(self, model: Model) -> None:
        self.model = model
        p = model.problem
        self.simple = _simple_states(model)
        self.groups = _groups(model, self.simple)
        member = np.zeros((len(self.simple), int(self.groups.max(initial=-1)) + 1))
        member[np.arange(len(self.simple)), self.groups] = 1.0
        self._member = member
        shown = p.likelihood[:, :, self.simple]
        self._shown = shown.reshape(-1, len(self.simple)).T.copy()
        self._noise = entropy_bits(np.moveaxis(shown, 1, 2)).T.copy()  # (simple, C)
        self._capacity = _capacity(shown)
        self._worth = member.shape[1] > 1
        if self._worth:
            self.prices = self._usable_prices()
            self._check_pay, self._repair_pay = (self._check_table(), self._repair_table())
        self._end_pay: dict[int, Floats] = {}

    def switch_off(self) -> None:
        """Leave only the known-state cost, so that what the information part does can be compared."""
        self._worth = False

    def low(self, beliefs: Floats, heres: list[Here], which: States, unused: Floats) -> tuple[Floats, Floats]:
        """The bound and the price of a bit that gave it, shapes (N,).

        Beliefs (N, S); row n stands in access state heres[which[n]]; unused (N, C) is 1 where a check is still open.
        """
        known = np.einsum("ns,ns->n", beliefs, np.array([h.known for h in heres])[which])
        if not self._worth or not len(self.prices):
            return known, np.zeros(len(beliefs))
        simple = beliefs[:, self.simple]
        share = simple.sum(axis=1)
        simple = simple / np.maximum(share, TINY)[:, None]
        shares = simple @ self._member
        told = self._told(simple) * unused
        gain = entropy_bits(shares)[:, None] * self.prices - told @ self._check_pay - shares @ self._repair_pay
        gain -= np.array([self._ending(h) for h in heres])[which]
        best = np.argmax(gain, axis=1)
        gained = gain[np.arange(len(gain)), best]
        return known + share * np.maximum(gained, 0.0), self.prices[best]

    def _told(self, simple: Floats) -> Floats:
        """Information of each check about the simple state now, bits, shape (N, C)."""
        checks = self.model.checks
        if not checks:
            return np.zeros((len(simple), 0))
        seen = (simple @ self._shown).reshape(len(simple), checks, -1)
        return np.clip(entropy_bits(seen) - simple @ self._noise, 0.0, self._capacity)

    def _usable_prices(self) -> Floats:
        p, model = self.model.problem, self.model
        wrong = _wrong_repair(model, self.simple, self.groups)
        spread = np.concatenate([p.check_cost / np.maximum(self._capacity, 1e-3), wrong[np.isfinite(wrong)]])
        spread = spread[spread > 0.0]
        if not len(spread):
            return np.zeros(0)
        prices = np.geomspace(0.3 * spread.min(), 3.0 * spread.max(), PRICES)
        limits = [
            c / cap
            for c, cap, once in zip(p.check_cost, self._capacity, p.check_once, strict=True)
            if not once and cap > 1e-12
        ]
        passing = p.proof_pass[self.simple]
        leak = float(_capacity(np.stack([passing, 1.0 - passing])[None])[0])
        if leak > 1e-12:
            limits.append(p.proof_cost / leak)
        if limits:
            prices = np.append(prices, min(limits))
            prices = prices[(prices <= min(limits)) & (prices > 0.0)]
        return np.unique(prices)

    def _check_table(self) -> Floats:
        """What one bit told by a check is worth above its price, shape (C, M)."""
        over = np.maximum(np.outer(self._capacity, self.prices) - self.model.problem.check_cost[:, None], 0.0)
        usable = (self._capacity > 1e-12)[:, None]
        found: Floats = over / np.maximum(self._capacity, 1e-12)[:, None] * usable
        return found

    def _repair_table(self) -> Floats:
        """The most that repairs of a group can tell beyond what they cost, a unit of its share, shape (K, M)."""
        cost = _wrong_repair(self.model, self.simple, self.groups)[:, None]
        failed = _failed_tries(self.model, self.simple, self.groups)[:, None]
        mu = self.prices[None, :]
        finite = np.isfinite(cost)
        half = np.exp2(-np.where(finite, cost, 0.0) / mu)
        half = np.minimum(half, 1.0 - 1e-12)
        tries = half / (1.0 - half)  # the mass of tries at which one more tells as much as it costs
        free = -mu * np.log2(1.0 - half) + np.where(finite, cost, 0.0) * failed
        mass = 1.0 + failed
        forced = mu * (entropy_bits(np.concatenate([1.0 / mass, failed / mass], axis=1))[:, None] * mass)
        found: Floats = np.where(finite, np.where(tries > failed, free, forced), 0.0)
        return found

    def _ending(self, here: Here) -> Floats:
        """D(mu): what ending in the dark from one access state can save, shape (M,)."""
        found = self._end_pay.get(here.access)
        if found is None:
            p, model = self.model.problem, self.model
            known = here.known[self.simple]
            ends = p.end_cost[:, self.simple] + here.cost[model.proof + 1 :, None] - known
            rows = list(ends)
            leaky = p.proof_pass[self.simple] > 0.0
            if leaky.any():
                rows.append(np.where(leaky, p.comeback_cost[self.simple] - known, np.inf))
            left = np.full((len(rows), self._member.shape[1]), np.inf)
            for e, row in enumerate(rows):
                np.minimum.at(left[e], self.groups, row)
            exponent = -left[:, :, None] / self.prices
            top = exponent.max(axis=1)
            total = top + np.log2(np.exp2(exponent - top[:, None, :]).sum(axis=1))
            found = self._end_pay[here.access] = np.maximum((self.prices * total).max(axis=0), 0.0)
        return found


def _simple_states(model: Model) -> States:
    p = model.problem
    here = np.arange(len(p.prior))
    plain = ((p.successor == here) | (p.successor == p.healthy)).all(axis=0)
    return np.flatnonzero(plain & model.faulty).astype(np.int64)


def _groups(model: Model, simple: States) -> States:
    """Number simple states by connected repairs; a state no repair cures stands alone."""
    p = model.problem
    label = np.arange(len(simple))
    for r in range(model.repairs):
        cured = (p.successor[r, simple] == p.healthy) & (p.success[r] > 0.0)
        if cured.any():
            label[np.isin(label, label[cured])] = label[cured].min()
    return np.unique(label, return_inverse=True)[1].astype(np.int64)


def _wrong_repair(model: Model, simple: States, groups: States) -> Floats:
    """The cheapest repair of each group, infinite where there is none, shape (K,)."""
    found = np.full(int(groups.max(initial=-1)) + 1, np.inf)
    for r, k in _cures(model, simple, groups):
        found[k] = min(found[k], model.problem.repair_cost[r])
    return found


def _failed_tries(model: Model, simple: States, groups: States) -> Floats:
    """The most failed tries a cure of each group takes on average, shape (K,)."""
    found = np.zeros(int(groups.max(initial=-1)) + 1)
    for r, k in _cures(model, simple, groups):
        found[k] = max(found[k], 1.0 / model.problem.success[r] - 1.0)
    return found


def _cures(model: Model, simple: States, groups: States) -> list[tuple[int, int]]:
    p = model.problem
    cured = (p.successor[:, simple] == p.healthy) & (p.success[:, None] > 0.0)
    return sorted({(int(r), int(groups[i])) for r, i in zip(*np.nonzero(cured), strict=True)})


def _capacity(tables: Floats) -> Floats:
    """An upper bound of the capacity of channels (C, outcomes, states) in bits, by Blahut and Arimoto's iteration.

    The largest divergence from any output mix bounds the capacity from above, so stopping early stays safe.
    """
    if tables.shape[2] < 2 or not tables.size:
        return np.zeros(len(tables))
    mix = np.full((len(tables), tables.shape[2]), 1.0 / tables.shape[2])
    best = np.full(len(tables), np.inf)
    own = -entropy_bits(np.moveaxis(tables, 1, 2))
    for _ in range(LARGE_ROUNDS if tables.size > LARGE_TABLE else ROUNDS):
        out = np.einsum("cos,cs->co", tables, mix)
        apart = own - np.einsum("cos,co->cs", tables, np.log2(np.maximum(out, TINY)))
        best = np.minimum(best, apart.max(axis=1))
        mix *= np.exp2(apart - apart.max(axis=1, keepdims=True))
        mix /= mix.sum(axis=1, keepdims=True)
    found: Floats = np.maximum(best, 0.0)
    return found

"""A problem made ready for looking ahead: what each action costs and leads to from one access state."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from firstpull.reasoning.planner.problem import Floats, Ints, Problem
from firstpull.reasoning.planner.value import KnownStateCost

IMPOSSIBLE = 1e-12  # outcomes less likely than this are not looked into


@dataclass(frozen=True, eq=False)
class Here:
    """Everything about one access state that does not depend on the belief; N actions, S states."""

    access: int
    after: Ints  # (N,) access state after each action
    cost: Floats  # (N,) price of each action with its access moves
    allowed: Ints  # (N,) 1 where the action may be done
    known: Floats  # (S,) clairvoyant cost from here
    then_known: Floats  # (N, S) price of each action plus clairvoyant cost after it, by the state before it
    failed_proof: Floats  # (S,) what a proof costs that was sure to fail, by state


class Model:
    """A problem with its clairvoyant costs and the access states met so far."""

    def __init__(self, problem: Problem, known: KnownStateCost | None = None) -> None:
        p = self.problem = problem
        self.known = known if known is not None else KnownStateCost(problem)
        self.checks, self.repairs = len(p.check_cost), len(p.repair_cost)
        self.proof = self.checks + self.repairs
        self.count = self.proof + 1 + len(p.end_cost)
        ends = np.zeros(len(p.end_cost), dtype=np.int64)
        self.opens = np.concatenate([p.check_open, p.repair_open, [p.proof_open], ends])
        self.shuts = np.concatenate([p.check_closed, p.repair_closed, [p.proof_closed], p.end_closed])
        self.base = np.concatenate([p.check_cost, p.repair_cost, [p.proof_cost], ends.astype(np.float64)])
        self.faulty = np.arange(len(p.prior)) != p.healthy
        moved = p.successor != np.arange(len(p.prior))
        self.moved_repair, self.moved_state = np.nonzero(moved & (p.success[:, None] > 0.0))
        self.moved_to = p.successor[self.moved_repair, self.moved_state]
        self.moved_share = p.success[self.moved_repair]
        self.once_bits = [1 << c if p.check_once[c] else 0 for c in range(self.checks)]
        self.false_pass = p.comeback_cost * self.faulty * p.proof_pass
        self._here: dict[int, Here] = {}

    def moves(self, access: int, opened: Ints, shut: Ints) -> Floats:
        """Price of going from an access state to what each row needs open and shut, shape (N,)."""
        items = np.arange(len(self.problem.open_cost))
        opening = ((opened & ~access)[:, None] >> items) & 1
        closing = ((shut & access)[:, None] >> items) & 1
        found: Floats = opening @ self.problem.open_cost + closing @ self.problem.close_cost
        return found

    def at(self, access: int) -> Here:
        """The tables of one access state, made once."""
        found = self._here.get(access)
        if found is None:
            found = self._here[access] = self._tables(access)
        return found

    def _tables(self, access: int) -> Here:
        p = self.problem
        after = (access | self.opens) & ~self.shuts
        cost = self.base + self.moves(access, self.opens, self.shuts)
        allowed = np.ones(self.count, dtype=np.int64)
        if p.allowed is not None:
            for i, action in enumerate(p.actions):
                if action.kind != "end":
                    allowed[i] = bool(p.allowed(action.kind, action.index, int(after[i])))
        rows = self.known.rows([access, *after.tolist()])
        here, later = rows[0], rows[1:].copy()
        share, r, s, to = (self.moved_share, self.moved_repair, self.moved_state, self.moved_to)
        change = share * (later[self.checks + r, to] - later[self.checks + r, s])
        later[self.checks + r, s] += change
        proof_after = later[self.proof].copy()
        later[self.proof] = (1.0 - p.proof_pass) * proof_after + self.false_pass
        later[self.proof + 1 :] = p.end_cost
        failed = np.maximum(cost[self.proof] + proof_after - here, 0.0) * self.faulty
        return Here(access, after, cost, allowed, here, cost[:, None] + later, failed)

    # ---- how a belief changes ----------------------------------------------------------------------------------

    def after_checks(self, beliefs: Floats) -> Floats:
        """Joint probability of outcome and state of every check, shape (N, C, O, S)."""
        return self.problem.likelihood[None] * beliefs[:, None, None, :]

    def after_repairs(self, beliefs: Floats) -> Floats:
        """The belief after every repair, shape (N, R, S)."""
        found = np.repeat(beliefs[:, None, :], self.repairs, axis=1)
        flow = beliefs[:, self.moved_state] * self.moved_share
        found[:, self.moved_repair, self.moved_state] -= flow
        rows = np.arange(len(beliefs))[:, None]
        np.add.at(found, (rows, self.moved_repair[None], self.moved_to[None]), flow)
        return np.maximum(found, 0.0)

    def after(self, belief: Floats, action: int, outcome: int) -> tuple[float, Floats]:
        """Probability of one outcome and the belief after it (proof: 1 passed, 0 failed)."""
        p = self.problem
        if action < self.checks:
            joint = p.likelihood[action, outcome] * belief
        elif action < self.proof:
            return 1.0, self.after_repairs(belief[None])[0, action - self.checks]
        else:
            joint = belief * (p.proof_pass if outcome else 1.0 - p.proof_pass)
        total = float(joint.sum())
        return total, joint / total if total > 0.0 else belief

"""Where one job stands: the belief, what is open, which once-only checks are done."""

from __future__ import annotations

import copy

import numpy as np

from firstpull.base.errors import InputError
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Floats

MOST_SURPRISES = 5  # outcomes of probability zero after which a job is ended rather than reasoned about (judgement)


class Job:
    """A job under way; outcomes that the model holds impossible are survived."""

    def __init__(self, model: Model) -> None:
        self.model = model
        self.belief: Floats = model.problem.prior
        self.access, self.used = model.problem.initially, 0
        self.surprises, self.over = 0, False
        self._unread: Floats = model.problem.prior  # the belief from repairs and failed proofs alone

    def fold(self, action: int, outcome: int) -> None:
        """Take in the outcome of an action.

        Raises:
            InputError: the action has no such outcome; nothing has changed then.
        """
        model, p = self.model, self.model.problem
        right = int(p.check_outcomes[action]) - 1 if action < model.checks else 0 if action < model.proof else 1
        if not 0 <= outcome <= right:
            raise InputError(f"outcome {outcome}", where=p.actions[action].id, right=f"0 to {right}")
        if action > model.proof or (action == model.proof and outcome == 1):
            self.over = True
            return
        chance, after = model.after(self.belief, action, outcome)
        if action >= model.checks:
            self._unread = model.after(self._unread, action, outcome)[1]
        else:
            self.used |= model.once_bits[action]
        self.access = int(model.at(self.access).after[action])
        if chance <= 0.0 or not np.isfinite(after).all():
            after = self._after_surprise()
        self.belief = after

    def copy(self) -> Job:
        """The same moment again, to follow another outcome from."""
        return copy.copy(self)

    def _after_surprise(self) -> Floats:
        """Distrust the readings: what repairs and proofs alone leave, and a little of every faulty state."""
        self.surprises += 1
        faulty = self.model.faulty.astype(np.float64)
        share = self._unread * faulty + 1e-3 * faulty / max(faulty.sum(), 1.0)
        total = float(share.sum())
        found: Floats = share / total if total > 0.0 else self.model.problem.prior
        return found

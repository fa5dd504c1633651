"""The next step within a time: the proven one when the search closes, else the look-ahead kept inside the bounds."""

from __future__ import annotations

import time
from dataclasses import dataclass

from firstpull.reasoning.planner.lookahead import LookAhead
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Floats
from firstpull.reasoning.planner.search import PROVEN, Node, Search

CLOSE = 0.01  # relative gap below which the search's own policy is followed (judgement)


@dataclass(frozen=True)
class Decision:
    """An action by its number, and the bounds on the cost from here known when it was chosen."""

    action: int
    low: float
    high: float

    @property
    def proven(self) -> bool:
        """Whether the action starts a policy that no other beats by more than one part in a million."""
        return self.high - self.low <= PROVEN * max(self.low, 1e-9)


class Decider:
    """Decides again and again on one problem and keeps what it has worked out."""

    def __init__(self, model: Model) -> None:
        self.model = model
        self.search = Search(model)
        self.ahead = LookAhead(model, bound=self.search.bound)
        self._reserve = 0.0  # what the look-ahead has taken at most, kept back from the search

    def decide(self, belief: Floats, access: int, used: int, seconds: float = 0.05, rounds: int = 10**9) -> Decision:
        """The next action; `seconds` bounds the thinking by the clock, `rounds` the same on every machine."""
        until = time.monotonic() + seconds
        if self.search.full:
            self.search = Search(self.model)
        node = self.search.node(belief, access, used)
        self.search.run(node, max(0.0, until - time.monotonic() - self._reserve), rounds)
        return Decision(self._pick(node), node.low, node.high)

    def _pick(self, node: Node) -> int:
        if node.gap <= CLOSE * node.low:
            return self.search.action(node)
        before = time.monotonic()
        steps = self.ahead.rank(node.belief, node.access, node.used)
        self._reserve = max(self._reserve, time.monotonic() - before)
        lows = self.search.lows(node)
        for step in steps:
            number = self.model.problem.number(step.action.kind, step.action.index)
            if node.options is None or lows.get(number, float("inf")) <= node.high:
                return number
        return self.search.action(node)

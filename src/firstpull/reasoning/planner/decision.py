"""The next step within a time: the proven one when the search closes, else the look-ahead kept inside the bounds."""

from __future__ import annotations

import time
from dataclasses import dataclass

from firstpull.reasoning.planner.estimate import estimates
from firstpull.reasoning.planner.lookahead import LookAhead
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Floats
from firstpull.reasoning.planner.search import PROVEN, Node, Search

CLOSE = 0.001  # relative gap below which the search's own policy is followed (judgement)
TRUST = 1.01  # how much dearer than the estimate a policy may be whose cost is certain (seeds below 10,000)
CERTAIN = 0.1  # weight of what a step certainly costs at most, beside its estimate (networks of seeds 101 to 206)
FAR = 2.0  # times the lower bound; a search whose bounds lie further apart has no say (judgement)


@dataclass(frozen=True)
class Decision:
    """An action by its number, and the bounds on the cost from here known when it was chosen."""

    action: int
    low: float
    high: float
    value: float  # expected cost to the end, as far as known

    @property
    def proven(self) -> bool:
        """Whether the action starts a policy that no other beats by more than one part in a million."""
        return self.high - self.low <= PROVEN * max(self.low, 1e-9)


class Decider:
    """Decides again and again on one problem and keeps what it has worked out."""

    def __init__(self, model: Model) -> None:
        self.model = model
        self.search = Search(model)
        self.ahead = LookAhead(model, bound=self.search.bound, fixed=self.search.fixed)
        self._reserve = 0.0  # what the look-ahead has taken at most, kept back from the search

    def decide(self, belief: Floats, access: int, used: int, seconds: float = 0.05, rounds: int = 10**9) -> Decision:
        """The next action; `seconds` bounds the thinking by the clock, `rounds` the same on every machine."""
        until = time.monotonic() + seconds
        if self.search.full:
            self.search.forget()
        node = self.search.node(belief, access, used)
        self.search.run(node, max(0.0, until - time.monotonic() - self._reserve), rounds)
        action, value = self._pick(node)
        return Decision(action, node.low, node.high, value)

    def _pick(self, node: Node) -> tuple[int, float]:
        """The search's own policy when it is nearly proven, else the step of the least estimate within the bounds.

        An estimate of what is hardly looked into is kind, and step after kind step puts off what must be done; so each
        is drawn a little towards what the best plan known after that step costs.
        """
        if node.gap <= CLOSE * node.low:
            return self.search.action(node), node.high
        before = time.monotonic()
        number, lows, highs = self.model.problem.number, self.search.lows(node), self.search.highs(node)
        found = estimates(self.ahead, node) if node.high <= FAR * node.low else {}
        for step in self.ahead.rank(node.belief, node.access, node.used):
            action = number(step.action.kind, step.action.index)
            low = lows.get(action, node.low if node.options is None else float("inf"))
            if low <= node.high:
                found.setdefault(action, max(step.value, low))
        found = {a: (1.0 - CERTAIN) * v + CERTAIN * highs.get(a, node.high) for a, v in found.items()}
        self._reserve = max(self._reserve, time.monotonic() - before)
        if not found:
            return self.search.action(node), node.high
        best = min(found, key=lambda action: found[action])
        if node.high <= found[best] * TRUST:
            return self.search.action(node), node.high
        return best, found[best]

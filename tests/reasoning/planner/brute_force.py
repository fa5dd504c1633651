"""An exact solver that shares nothing with the planner: plain recursion over dicts, straight from the JSON form.

It serves problems with once-only checks, repairs that always take and a perfect proof; small ones only.
"""

from __future__ import annotations

from typing import Any

Belief = tuple[tuple[frozenset[str], float], ...]


def least_cost(problem: dict[str, Any]) -> float:
    """The least expected cost of the whole job."""
    return _Solver(problem).from_start()


class _Solver:
    def __init__(self, problem: dict[str, Any]) -> None:
        self.p = problem
        self.opening = {a["id"]: a["open_cost"] for a in problem["access"]}
        self.closing = {a["id"]: a["close_cost"] for a in problem["access"]}
        self.memo: dict[tuple[Any, ...], float] = {}

    def from_start(self) -> float:
        shares: dict[frozenset[str], float] = {}
        for h in self.p["hypotheses"]:
            state = _state(h["state"])
            shares[state] = shares.get(state, 0.0) + h["prior"]
        opened = frozenset(a["id"] for a in self.p["access"] if a["initially"] == "open")
        return self.value(_belief(shares), opened, frozenset())

    def move(self, opened: frozenset[str], act: dict[str, Any]) -> tuple[float, frozenset[str]]:
        cost = 0.0
        now = set(opened)
        for item in act.get("need_open", []):
            if item not in now:
                cost += self.opening[item]
                now.add(item)
        for item in act.get("need_closed", []):
            if item in now:
                cost += self.closing[item]
                now.remove(item)
        return cost + act["cost"], frozenset(now)

    def value(self, belief: Belief, opened: frozenset[str], used: frozenset[str]) -> float:
        key = (tuple((s, round(w, 9)) for s, w in belief), opened, used)
        if key in self.memo:
            return self.memo[key]
        best, _ = self.move(opened, self.p["give_up"])
        best = min(best, self.proof(belief, opened, used))
        for check in self.p["checks"]:
            if check["id"] not in used:
                best = min(best, self.check(check, belief, opened, used, best))
        for repair in self.p["repairs"]:
            fixes = frozenset(repair["fixes"])
            if any(s & fixes for s, _ in belief):
                cost, then = self.move(opened, repair)
                shares: dict[frozenset[str], float] = {}
                for s, w in belief:
                    shares[s - fixes] = shares.get(s - fixes, 0.0) + w
                if cost < best:
                    best = min(best, cost + self.value(_belief(shares), then, used))
        self.memo[key] = best
        return best

    def proof(self, belief: Belief, opened: frozenset[str], used: frozenset[str]) -> float:
        cost, then = self.move(opened, self.p["proof"])
        sick = {s: w for s, w in belief if s}
        if len(sick) == len(belief):
            return float("inf")
        left = sum(sick.values())
        return cost + (left * self.value(_belief(sick), then, used) if left > 1e-12 else 0.0)

    def check(
        self, check: dict[str, Any], belief: Belief, opened: frozenset[str], used: frozenset[str], best: float
    ) -> float:
        cost, then = self.move(opened, check)
        for k in range(check["outcomes"]):
            shares = {s: w * check["likelihood"][_name(s)][k] for s, w in belief}
            chance = sum(shares.values())
            if cost >= best:
                return cost
            if chance > 1e-12:
                cost += chance * self.value(_belief(shares), then, used | {check["id"]})
        return cost


def _state(word: str) -> frozenset[str]:
    return frozenset() if word == "healthy" else frozenset(word.split("+"))


def _name(state: frozenset[str]) -> str:
    return "+".join(sorted(state)) or "healthy"


def _belief(shares: dict[frozenset[str], float]) -> Belief:
    total = sum(shares.values())
    return tuple(sorted(((s, w / total) for s, w in shares.items() if w > 0.0), key=lambda x: sorted(x[0])))

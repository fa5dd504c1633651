"""Best-first search between two bounds over what can be known: any time an answer, at the end a proof.

A node is a belief, an access state and the once-only checks already done; equal nodes are shared. `low` is the
information bound or what its options make of it, `high` what a known policy costs. Each round follows the options that
look cheapest from the root down to the leaves that matter most (chance of getting there times the gap), works out
all steps of those leaves in one go, and carries both bounds back up.
"""

from __future__ import annotations

import time
from collections.abc import Iterator

import numpy as np

from firstpull.reasoning.planner.bound import InformationBound
from firstpull.reasoning.planner.children import Children, children_of
from firstpull.reasoning.planner.fixed import FixedPlans
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Floats

PROVEN = 1e-6
LEAVES = 96  # leaves worked out in one go (judgement)
WORTH = 0.005  # of the best leaf's weight, that a leaf must have to be worked out with it (judgement)
BATCH_NUMBERS = 200_000  # fewer leaves when one of them leads to very many beliefs
DEEPEST = 300  # steps followed from the root in one round (judgement)
MOST_NUMBERS = 60_000_000  # beliefs kept, in numbers of eight bytes; the search stops growing beyond


class Option:
    """One step from a node with what it leads to; children become nodes when first looked at."""

    __slots__ = ("action", "chance", "cost", "first", "high", "kids", "last", "low", "rows", "used")

    def __init__(self, action: int, used: int, cost: float, low: float, rows: Children, first: int, last: int) -> None:
        self.action, self.cost, self.low, self.high = action, cost, low, float("inf")
        self.rows: Children | None = rows
        self.first, self.last, self.used = first, last, used
        self.chance: list[float] = []
        self.kids: list[Node] | None = None


class Node:
    """What is known at one moment of a job."""

    __slots__ = ("access", "belief", "high", "low", "options", "plan", "used")

    def __init__(self, belief: Floats, access: int, used: int, low: float, high: float) -> None:
        self.belief, self.access, self.used = belief, access, used
        self.low, self.high = min(low, high), high
        self.options: list[Option] | None = None
        self.plan: Option | None = None  # the option that gives `high`; None stands for a fixed plan

    @property
    def gap(self) -> float:
        """What is not yet known about the least cost from here."""
        return self.high - self.low


class Search:
    """The search of one model; nodes stay for later questions about the same problem."""

    def __init__(self, model: Model) -> None:
        self.model, self.bound, self.fixed = model, InformationBound(model), FixedPlans(model)
        self._nodes: dict[bytes, Node] = {}
        self.expanded = 0
        self._numbers = 0
        self._round = 0.002 + 3e-7 * self._width()  # seconds that a round may take; at first a guess (judgement)

    def node(self, belief: Floats, access: int, used: int) -> Node:
        """The shared node of a belief, made when new."""
        key = self._key(belief, access, used)
        found = self._nodes.get(key)
        if found is None:
            unused = np.array([[0.0 if used & bit else 1.0 for bit in self.model.once_bits]])
            low, _ = self.bound.low(belief[None], [self.model.at(access)], np.zeros(1, np.int64), unused.reshape(1, -1))
            found = self._nodes[key] = self._new(belief, access, used, float(low[0]))
        return found

    def run(self, root: Node, seconds: float = float("inf"), rounds: int = 10**9, gap: float = PROVEN) -> None:
        """Search from a node until the relative gap is closed, time or rounds are up, or memory is full."""
        now = time.monotonic()
        until = now + seconds
        for _ in range(rounds):
            if root.gap <= gap * max(root.low, 1e-9) or self.full:
                return
            if now + self._round > until:
                self._round *= 0.9  # one slow moment of the machine must not forbid searching for ever
                return
            path, leaves = self._frontier(root)
            if not leaves and not self._settle(path):
                return
            if leaves:
                self._expand(leaves)
                for node in path:
                    self._update(node)
            before, now = now, time.monotonic()
            self._round = max(0.9 * self._round, now - before)

    @property
    def full(self) -> bool:
        """Whether memory is used up."""
        return self._numbers > MOST_NUMBERS

    def nodes(self) -> list[Node]:
        """Every moment met so far."""
        return list(self._nodes.values())

    def forget(self) -> None:
        """Drop every moment met so far; those that lead to each other in a circle are cut, or they would stay."""
        for node in self._nodes.values():
            node.options = node.plan = None
        self._nodes.clear()
        self._numbers = 0

    def action(self, node: Node) -> int:
        """The first action of the policy whose cost is `high`."""
        if node.plan is not None:
            return node.plan.action
        return self.fixed.first(node.belief, node.access)

    def lows(self, node: Node) -> dict[int, float]:
        """The lower bound on the cost of every action still in question at a node."""
        return {option.action: option.low for option in node.options or []}

    def highs(self, node: Node) -> dict[int, float]:
        """What the best plan known costs that begins with each action, where what follows was looked at."""
        looked = (option for option in node.options or [] if option.kids is not None)
        return {option.action: self._worth(node, option)[1] for option in looked}

    # ---- one round ----------------------------------------------------------------------------------------------

    def _frontier(self, root: Node) -> tuple[list[Node], list[Node]]:
        """Nodes of the best partial policy, deepest first, and its leaves that matter most."""
        share = 0.02
        while True:
            path: list[Node] = []
            leaves: dict[int, tuple[float, Node]] = {}
            self._walk(root, 1.0, root.gap * share, set(), path, leaves)
            share *= 0.2
            if leaves or share < 1e-12:
                break
        most = max(1, min(LEAVES, BATCH_NUMBERS // max(1, self._width())))
        ranked = sorted(leaves.values(), key=lambda pair: -pair[0])[:most]
        return path, [node for score, node in ranked if score >= WORTH * ranked[0][0]]

    def _walk(
        self,
        node: Node,
        reach: float,
        least: float,
        seen: set[int],
        path: list[Node],
        leaves: dict[int, tuple[float, Node]],
        depth: int = 0,
    ) -> None:
        seen.add(id(node))
        if not node.options or depth > DEEPEST:
            if not node.options:
                leaves[id(node)] = (reach * node.gap, node)
            return
        for kid, chance in self._children(node.options[0]):
            if reach * chance * kid.gap > least and id(kid) not in seen and len(seen) < 2000:
                self._walk(kid, reach * chance, least, seen, path, leaves, depth + 1)
        path.append(node)

    def _expand(self, leaves: list[Node]) -> None:
        model = self.model
        rows = children_of(
            model,
            self.bound,
            np.array([node.belief for node in leaves]),
            [node.access for node in leaves],
            [node.used for node in leaves],
        )
        owed = np.bincount(rows.slot, weights=rows.chance * rows.low, minlength=rows.cost.size)
        lows = rows.cost + owed.reshape(rows.cost.shape)
        limit = np.array([node.high for node in leaves])
        keep = lows <= limit[:, None] + 1e-9
        kept = keep.ravel()[rows.slot]
        rows = Children(
            rows.slot[kept], rows.chance[kept], rows.beliefs[kept], rows.access[kept], rows.low[kept], rows.cost
        )
        self._numbers += rows.beliefs.size
        firsts = np.searchsorted(rows.slot, np.arange(rows.cost.size + 1)).tolist()
        for n, node in enumerate(leaves):
            node.options = [
                Option(
                    a,
                    node.used | (model.once_bits[a] if a < model.checks else 0),
                    float(rows.cost[n, a]),
                    float(lows[n, a]),
                    rows,
                    firsts[n * model.count + a],
                    firsts[n * model.count + a + 1],
                )
                for a in np.flatnonzero(keep[n]).tolist()
            ]
            node.options.sort(key=_by_low)
            if not node.options:  # only the fixed plan is as good as the bound says
                node.low = node.high
            self.expanded += 1
            self._update(node)

    def _update(self, node: Node) -> None:
        """Carry the bounds of the children of a node into it; its options stay in the order of `low`."""
        options = node.options
        if not options:
            return
        while True:
            best = options[0]
            low, best.high = self._worth(node, best)
            if low <= best.low + 1e-12:
                break
            best.low = low
            if len(options) > 1 and low > options[1].low:
                options.sort(key=_by_low)
        if best.high < node.high:
            node.high, node.plan = best.high, best
        while len(options) > 1 and options[-1].low > node.high + 1e-9:
            options.pop()
        node.low = min(max(node.low, best.low), node.high)

    def _worth(self, node: Node, option: Option) -> tuple[float, float]:
        low = high = option.cost
        stay = 0.0
        for kid, chance in self._children(option):
            if kid is node:
                stay += chance
            else:
                low += chance * kid.low
                high += chance * kid.high
        if stay > 1.0 - 1e-9:  # a step that leads back to where it starts is no step
            return float("inf"), float("inf")
        return low / (1.0 - stay), high / (1.0 - stay)

    def _settle(self, path: list[Node]) -> bool:
        """Without a leaf left, carry bounds round the circles that are left; false when nothing moves any more."""
        moved = 0.0
        for node in path:
            before = node.gap
            self._update(node)
            moved += before - node.gap
        return moved > 1e-12

    # ---- nodes and options --------------------------------------------------------------------------------------

    def _children(self, option: Option) -> Iterator[tuple[Node, float]]:
        if option.kids is None:
            option.kids = self._materialise(option)
        return zip(option.kids, option.chance, strict=True)

    def _materialise(self, option: Option) -> list[Node]:
        rows, kids = option.rows, []
        assert rows is not None
        option.rows = None
        option.chance = rows.chance[option.first : option.last].tolist()
        for i in range(option.first, option.last):
            used = option.used
            key = self._key(rows.beliefs[i], int(rows.access[i]), used)
            kid = self._nodes.get(key)
            if kid is None:
                kid = self._new(rows.beliefs[i], int(rows.access[i]), used, float(rows.low[i]))
                self._nodes[key] = kid
            kids.append(kid)
        return kids

    def _new(self, belief: Floats, access: int, used: int, low: float) -> Node:
        return Node(belief, access, used, low, self.fixed.high(belief, access))

    @staticmethod
    def _key(belief: Floats, access: int, used: int) -> bytes:
        return np.rint(belief * 1e9).astype(np.int64).tobytes() + b"%d,%d" % (access, used)

    def _width(self) -> int:
        p = self.model.problem
        return (self.model.checks * p.outcomes + self.model.repairs + 1) * len(p.prior)


def _by_low(option: Option) -> float:
    return option.low

"""A fixed service chart, the anchor of a played job: the same checks in the same order, whatever was read before.

The order is that of what each check tells for its minutes when nothing but the complaint is known. A reading that
settles what is wrong is acted on; at the end of the chart repairs are tried, the likeliest first.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from firstpull.practice.playing import Game
from firstpull.reasoning.adviser import Considered, put_back
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.laying import Telling, telling_checks
from firstpull.reasoning.options import repair_option
from firstpull.safety.moves import plan_moves


@dataclass(eq=False)
class ChartGame(Game):
    """One hidden machine on the bench of somebody who follows a fixed chart and knows how to read it."""

    settle: bool = False
    _chart: list[Telling] | None = field(default=None, init=False)
    _proof_due: bool = field(default=False, init=False)

    def choose(self, belief: Belief) -> Considered:
        """The next line of the chart, or the repair that the readings call for."""
        if self._chart is None:
            self._chart = telling_checks(belief, self.state, self.prices)
        if self._proof_due:
            self._proof_due = False
            return Considered("proof", "proof", 0.0, None, tuple(put_back(self.worlds.book, self.state)))
        chances = belief.repair_probability
        likeliest = max(chances, key=lambda r: chances[r])
        lines = [c for c in self._chart if not self.is_done(self.worlds.book.checks[c.option.id], c.place)]
        if chances[likeliest] >= self.prices.proof_share or not lines:
            if chances[likeliest] <= 0.0:
                return Considered("end", "end", 0.0)
            self._proof_due = True
            option = repair_option(self.worlds.book, self.worlds.book.repairs[likeliest])
            kind = "repair"
        else:
            kind, option = "check", lines[0].option
        moves = plan_moves(self.state, option.off, option.on, self.worlds.book.minutes)
        place = None if kind == "repair" else lines[0].place
        return Considered("repair" if kind == "repair" else "check", option.id, 0.0, option, tuple(moves), place=place)

"""Two anchors of a played job: a fixed service chart, and the check that tells most for its minutes, step by step.

The chart has the same checks in the same order, whatever was read before: that of what each tells for its minutes when
nothing but the complaint is known. Both act on a reading that settles what is wrong, and keep the shop's rule that a
dear part wants proof; when no check is left, repairs are tried, the likeliest first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from firstpull.practice.playing import Game
from firstpull.reasoning.adviser import RELEASE, Considered, put_back
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.laying import is_dear, telling_checks
from firstpull.reasoning.options import Option, repair_option
from firstpull.reasoning.sifting import Telling
from firstpull.safety.interlocks import judge
from firstpull.safety.moves import Move, plan_moves
from firstpull.safety.state import MachineState

LEAST_WORTH = 1e-4  # bits a minute; less is not worth walking to the machine for


@dataclass(eq=False)
class ChartGame(Game):
    """One hidden machine on the bench of somebody who follows a fixed chart and knows how to read it."""

    settle: bool = False
    sure: float | None = None  # chance from which a repair is done; the shop's own share of proof when None
    _chart: list[Telling] | None = field(default=None, init=False)
    _proof_due: bool = field(default=False, init=False)

    def choose(self, belief: Belief) -> Considered:
        """The next line of the chart, or the repair that the readings call for."""
        if self.proved:
            return Considered("end", RELEASE, 0.0, None, tuple(put_back(self.worlds.book, self.state)))
        if self._proof_due:
            self._proof_due = False
            return Considered("proof", "proof", 0.0, None, tuple(put_back(self.worlds.book, self.state)))
        chances = belief.repair_probability
        likeliest = max(chances, key=lambda r: chances[r])
        lines = self._lines(belief)
        if chances[likeliest] >= self._enough(likeliest) or not lines:
            if chances[likeliest] <= 0.0:
                return Considered("end", "end", 0.0)
            self._proof_due = True
            option = repair_option(self.worlds.book, self.worlds.book.repairs[likeliest])
            kind = "repair"
        else:
            kind, option = "check", lines[0].option
        place = None if kind == "repair" else lines[0].place
        moves = tuple(self._moves(option))
        return Considered("repair" if kind == "repair" else "check", option.id, 0.0, option, moves, place=place)

    def _enough(self, repair: str) -> float:
        """The chance from which a repair is done."""
        asked = self.sure or self.prices.proof_share
        wanted = is_dear(self.worlds.book.repairs[repair], self.prices)
        return max(asked, self.prices.proof_share) if wanted else asked

    def _lines(self, belief: Belief) -> list[Telling]:
        """What is left of the chart."""
        if self._chart is None:
            self._chart = telling_checks(belief, self.state, self.prices)
        return [c for c in self._chart if not self.is_done(self.worlds.book.checks[c.option.id], c.place)]

    def _moves(self, option: Option) -> list[Move]:
        """The moves to an option; where it may not be done that way, everything is put back first."""
        book = self.worlds.book
        direct = plan_moves(self.state, option.off, option.on, book.minutes)
        if judge(_after(self.state, direct).tokens, option.deed, book.sizes).allowed:
            return direct
        back = put_back(book, self.state)
        return back + plan_moves(_after(self.state, back), option.off, option.on, book.minutes)


@dataclass(eq=False)
class GainGame(ChartGame):
    """One hidden machine on the bench of somebody who always does the check that tells most for its minutes."""

    def _lines(self, belief: Belief) -> list[Telling]:
        """Checks that are left and tell anything now, the most telling for their minutes first."""
        return [c for c in telling_checks(belief, self.state, self.prices, self.is_done) if c.worth > LEAST_WORTH]


def _after(state: MachineState, moves: Sequence[Move]) -> MachineState:
    return state.with_moves([(m.item, m.position) for m in moves])

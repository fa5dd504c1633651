"""Plays a hidden machine to the end as the adviser says, and keeps the score."""

from __future__ import annotations

from dataclasses import dataclass, field

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.handbook.entries import Check
from firstpull.practice.hidden import HiddenMachine
from firstpull.reasoning.acts import Act, ComplaintAct, RepairAct, SilenceAct, ToldAct
from firstpull.reasoning.adviser import Considered, advise, put_back
from firstpull.reasoning.believe import Belief, believe
from firstpull.reasoning.options import reading_mark
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Worlds
from firstpull.safety.interlocks import judge
from firstpull.safety.moves import Move
from firstpull.safety.state import at_rest

MOST_STEPS = 40


@dataclass(eq=False)
class Score:
    """How one job went.

    `proven` says that before the first dear part was bought (or the repair that cured, when it needed none) the true
    cause, or its repair, had 0.95; `cured` that the machine is sound; `released` that it went back as working.
    """

    minutes: float = 0.0
    money: float = 0.0
    steps: list[str] = field(default_factory=list)
    sure: float = 0.0
    cured: bool = False
    released: bool = False
    unsafe: list[str] = field(default_factory=list)
    wrong_dear_parts: int = 0
    ended: str = "too many steps"

    @property
    def found_and_proven(self) -> bool:
        """The goal of a job: found, mended, proved, everything back on, no dear part bought in vain."""
        return self.cured and self.released and self.wrong_dear_parts == 0 and not self.unsafe


@dataclass(eq=False)
class Game:
    """One hidden machine on the bench of somebody who does what the adviser says."""

    worlds: Worlds
    hidden: HiddenMachine
    complaint: str
    prices: Prices = field(default_factory=Prices)
    told: tuple[str, ...] = ()
    depth: int = 2

    def __post_init__(self) -> None:
        self.scales = Scales(self.worlds.for_job())
        self.state = at_rest(self.worlds.book.access)
        self.acts: list[Act] = [ToldAct(t) for t in self.told]
        self.acts += [ComplaintAct(self.complaint), SilenceAct((self.complaint,))]
        self.episode = 0
        self.done: set[tuple[object, ...]] = set()
        self.tried = False
        self.score = Score()

    def play(self) -> Score:
        """Play to the end."""
        for _ in range(MOST_STEPS):
            belief = believe(self.scales, self.acts)
            advice = advise(belief, self.state, self.prices, self.depth, self._is_done, self.tried)
            if not self._do(belief, advice.next):
                break
        return self.score

    def _do(self, belief: Belief, step: Considered) -> bool:
        """Do one step; whether the job goes on."""
        self.score.steps.append(f"{step.kind}:{step.id}")
        if step.kind == "end":
            self.score.ended = "given up"
            return False
        self._move(step.moves)
        if step.kind == "proof":
            return self._prove()
        assert step.option is not None
        verdict = judge(self.state.tokens, step.option.deed, self.worlds.book.sizes)
        if not verdict.allowed:
            self.score.unsafe.append(f"{step.id}: {verdict.why}")
        self.score.minutes += step.option.minutes
        if step.kind == "repair":
            self._repair(belief, step.id)
        else:
            self._check(step)
        return True

    def _move(self, moves: tuple[Move, ...] | list[Move]) -> None:
        for move in moves:
            self.state = self.state.moved(move.item, move.position)
            self.score.minutes += move.minutes
        if moves:
            self.episode += 1

    def _check(self, step: Considered) -> None:
        assert step.place is not None
        act = self.hidden.read(step.id, step.place, self.episode)
        self.acts.append(act)
        self.tried = False
        self.done.add(reading_mark(self.worlds.book, self.worlds.book.checks[step.id], act.arrangement))

    def _repair(self, belief: Belief, name: str) -> None:
        repair = self.worlds.book.repairs[name]
        parts = sum(p.usual for p in repair.parts)
        helps = bool(self.hidden.faults & frozenset(repair.cures))
        self.score.money += parts
        self.score.wrong_dear_parts += int(parts > self.prices.proof_price and not helps)
        if helps:
            self.score.sure = belief.repair_probability[name]
        self.hidden.repair(repair)
        self.acts.append(RepairAct(name))
        self.done.clear()
        self.tried = False
        self.episode += 1

    def _prove(self) -> bool:
        """Everything is back on: the complaint is tried again; gone ends the job."""
        self.score.minutes += self.worlds.book.complaints[self.complaint].minutes
        still = self.hidden.still(self.complaint, self.episode)
        self.acts.append(ComplaintAct(self.complaint, still, self.episode + 1))
        self.episode += 2
        self.tried = True
        if still:
            return True
        self.score.cured, self.score.released = self.hidden.sound, not put_back(self.worlds.book, self.state)
        self.score.ended = "released"
        return False

    def _is_done(self, check: Check, place: Arrangement) -> bool:
        return reading_mark(self.worlds.book, check, place) in self.done


def likely_complaint(hidden: HiddenMachine) -> str:
    """What the owner of this machine would say that the owner of a sound one would not."""
    sound = HiddenMachine(hidden.worlds, frozenset(), hidden.seed, shifted=hidden.shifted)
    complaints = hidden.worlds.book.complaints
    return max(complaints, key=lambda c: hidden.complains(c) - sound.complains(c))



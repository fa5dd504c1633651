"""Plays a hidden machine to the end as the adviser says, and keeps the score."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from firstpull.engine.vocabulary.types import Arrangement
from firstpull.handbook.entries import Check, ReleaseProof, Repair
from firstpull.handbook.select import ClassBook
from firstpull.practice.hidden import HiddenMachine
from firstpull.reasoning.acts import Act, ComplaintAct, RepairAct, SilenceAct, ToldAct
from firstpull.reasoning.adviser import RELEASE, Considered, advise, put_back
from firstpull.reasoning.believe import Belief, believe
from firstpull.reasoning.laying import is_dear
from firstpull.reasoning.options import Option, arrangement_of, check_options, reading_mark
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Worlds
from firstpull.safety.interlocks import judge
from firstpull.safety.moves import Move, plan_moves
from firstpull.safety.release import wanted_proofs
from firstpull.safety.state import MachineState, at_rest

MOST_STEPS = 40
TRIED_AGAIN = 2  # further tries of a release proof: common practice, no source


def all_unlocked(book: ClassBook) -> Prices:
    """Prices of a shop that has switched on every locked repair; what must be read before them still must be."""
    return Prices(unlocked=frozenset(r.id for r in book.repairs.values() if r.locked))


@dataclass(eq=False)
class Score:
    """How one job went.

    `sure` is what the repair that cured had when it was done; `unproven_dear_parts` counts parts above the proof price
    bought before their repair had 0.95; `cured` says that the machine is sound, `released` that it went back as
    working, complaint gone and all release proofs passed.
    """

    minutes: float = 0.0
    money: float = 0.0
    steps: list[str] = field(default_factory=list)
    sure: float = 0.0
    cured: bool = False
    released: bool = False
    unsafe: list[str] = field(default_factory=list)
    wrong_dear_parts: int = 0
    unproven_dear_parts: int = 0
    ended: str = "too many steps"

    @property
    def found_and_proven(self) -> bool:
        """The goal of a job: found, mended, proved, everything back on, no dear part bought before it was proved."""
        bought_well = self.wrong_dear_parts == 0 and self.unproven_dear_parts == 0
        return self.cured and self.released and bought_well and not self.unsafe


@dataclass(eq=False)
class Game:
    """One hidden machine on the bench of somebody who does what the adviser says."""

    worlds: Worlds
    hidden: HiddenMachine
    complaint: str
    prices: Prices = field(default_factory=Prices)
    told: tuple[str, ...] = ()
    depth: int = 2
    settle: bool = True

    def __post_init__(self) -> None:
        self.scales = Scales(self.worlds)
        self.state = at_rest(self.worlds.book.access)
        self.acts: list[Act] = [ToldAct(t) for t in self.told]
        self.acts += [ComplaintAct(self.complaint), SilenceAct((self.complaint,))]
        self.episode = 0
        self.done: set[tuple[object, ...]] = set()
        self.repaired: list[Repair] = []
        self.tried = False
        self.proved = False
        self.score = Score()

    def play(self, most_minutes: float = np.inf) -> Score:
        """Play to the end, or until more than so many minutes were spent."""
        for _ in range(MOST_STEPS):
            belief = believe(self.scales, self.acts, self.settle)
            if not self._do(belief, self.choose(belief)) or self.score.minutes > most_minutes:
                break
        return self.score

    def choose(self, belief: Belief) -> Considered:
        """The next step: what the adviser says."""
        return advise(belief, self.state, self.prices, self.depth, self.is_done, self.tried, self.proved).next

    def _do(self, belief: Belief, step: Considered) -> bool:
        """Do one step; whether the job goes on."""
        self.score.steps.append(f"{step.kind}:{step.id}")
        if step.kind == "end" and step.id != RELEASE:
            self.score.ended = "given up"
            return False
        self._move(step.moves)
        if step.id == RELEASE:
            self.score.cured, self.score.released = self.hidden.sound, not put_back(self.worlds.book, self.state)
            self.score.ended = "released"
            return False
        if step.kind == "proof":
            self._prove()
            return True
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
        helps = bool(self.hidden.faults & repair.ends)
        self.score.money += parts
        dear = is_dear(repair, self.prices)
        self.score.wrong_dear_parts += int(dear and not helps)
        self.score.unproven_dear_parts += int(dear and belief.repair_probability[name] < self.prices.proof_share)
        if helps:
            self.score.sure = belief.repair_probability[name]
        self.hidden.repair(repair)
        self.repaired.append(repair)
        self.acts.append(RepairAct(name))
        self.done.clear()
        self.tried = self.proved = False
        self.episode += 1

    def _prove(self) -> None:
        """Everything is back on: the complaint is tried again; gone and all release proofs passed, it may go."""
        book = self.worlds.book
        self.score.minutes += book.complaints[self.complaint].minutes
        still = self.hidden.still(self.complaint, self.episode)
        self.acts.append(ComplaintAct(self.complaint, still, self.episode + 1))
        self.episode += 2
        self.tried = True
        self.proved = not still and all(self._shows(proof) for proof in wanted_proofs(book, self.repaired).values())

    def _shows(self, proof: ReleaseProof) -> bool:
        """Whether a release proof passes as often as it must, one after another; each try is a reading like any other.

        One that does not pass is tried again before it is believed.
        """
        book = self.worlds.book
        if proof.check not in book.checks or not proof.outcomes:
            return True
        option = next(iter(check_options(book, book.checks[proof.check])))
        if not judge(self._when(option).tokens, option.deed, book.sizes).allowed:
            self.score.unsafe.append(f"{proof.id}: not to be done as the machine would stand")
        passed = 0
        for _ in range(proof.times + TRIED_AGAIN):
            self.score.minutes += option.minutes
            act = self.hidden.read(proof.check, arrangement_of(book, option), self.episode)
            self.acts.append(act)
            passed = passed + 1 if act.reads[0].word in proof.outcomes else 0
            if passed == proof.times:
                return True
        return False

    def _when(self, option: Option) -> MachineState:
        """How the machine stands while an option is done from rest."""
        moves = plan_moves(at_rest(self.worlds.book.access), option.off, option.on, self.worlds.book.minutes)
        return at_rest(self.worlds.book.access).with_moves([(m.item, m.position) for m in moves])

    def is_done(self, check: Check, place: Arrangement) -> bool:
        """Whether such a reading was taken since the machine was last changed."""
        return reading_mark(self.worlds.book, check, place) in self.done

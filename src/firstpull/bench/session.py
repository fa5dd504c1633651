"""One machine on the bench: what was done to it, how it stands, what is believed of it.

The only object here that changes. A step is checked whole before anything is touched; a refused step leaves all as it
was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace

from firstpull.base.errors import InputError
from firstpull.bench.case import Case, Step
from firstpull.bench.reading import read_values
from firstpull.engine.vocabulary.types import Arrangement, Drive
from firstpull.handbook.entries import Check, DriveWay, Needs
from firstpull.handbook.findings import nearest
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.acts import (
    GONE,
    NOT_DONE,
    NOT_POSSIBLE,
    NOW_AND_THEN,
    STILL,
    UNIVERSAL,
    Act,
    ComplaintAct,
    ReadingAct,
    RepairAct,
    SilenceAct,
    ToldAct,
)
from firstpull.reasoning.adviser import Advice, advise
from firstpull.reasoning.believe import Belief, believe, on_we_go
from firstpull.reasoning.options import deed_of, reading_mark
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Worlds
from firstpull.safety.interlocks import Deed, cannot_fire, must_rest
from firstpull.safety.state import MachineState, Position, at_rest


@dataclass(frozen=True, slots=True)
class Question:
    """A one-tap question that a contradiction raises: the item, where the record has it, where the reading needs it."""

    item: str
    recorded: Position
    implied: Position
    check: str


@dataclass(eq=False)
class Session:
    """A live job of one machine class."""

    book: ClassBook
    scales: Scales
    prices: Prices = field(default_factory=Prices)
    state: MachineState = field(init=False)
    acts: list[Act] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    masked: set[str] = field(default_factory=set)
    done: set[tuple[object, ...]] = field(default_factory=set)
    last_repair: str | None = None
    _episode: int = 0
    _belief: dict[bool, tuple[int, Belief]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.state = at_rest(self.book.access)

    @classmethod
    def of_case(cls, case: Case, worlds: Worlds, prices: Prices | None = None) -> Session:
        """A session with everything that a case says.

        Raises:
            FirstpullError: a step that cannot be taken, with its place.
        """
        session = cls(worlds.book, Scales(worlds), prices or Prices())
        session.hear(case.complaint, case.told)
        for number, step in enumerate(case.steps, start=1):
            session.take(step, f"case.step[{number}]")
        return session

    def hear(self, complaints: Iterable[str], told: Iterable[str]) -> None:
        """What the customer said at the counter."""
        for fact in told:
            if fact in self.book.told:
                self.acts.append(ToldAct(fact))
        said = tuple(c for c in complaints if c in self.book.complaints)
        self.acts += [ComplaintAct(c) for c in said]
        if said:
            self.acts.append(SilenceAct(said))

    def take(self, step: Step, where: str = "step") -> None:
        """Take one step into the record.

        Raises:
            InputError: the class has no such thing, or the reading cannot be read; nothing is changed then.
        """
        match step.kind:
            case "check":
                self._check(step, where)
            case "access":
                self._known(step.id, self.book.access, "access", where)
                self._access(step)
            case "repair":
                self._known(step.id, self.book.repairs, "repair", where)
                self._repair(step)
            case "told":
                self._known(step.id, self.book.told, "told", where)
                self.acts.append(ToldAct(step.id, step.answer))
        self.steps.append(step)

    def _known(self, name: str, shelf: Iterable[str], kind: str, where: str) -> None:
        if name not in shelf:
            raise InputError(f"'{self.book.machine.id}' has no {kind} '{name}'", where, nearest(name, shelf))

    def _access(self, step: Step) -> None:
        """A move as recorded; what must have come off first is implied unless somebody recorded where it stands."""
        if step.state == "off" and not self.book.access[step.id].added:
            first = _positions(self.book.access[step.id].first).items()
            before = [m for m in first if m[0] not in self.state.said and not self.state.is_at(*m)]
            self.state = self.state.with_moves(before, implied=True)
        self.state = self.state.moved(step.id, step.state)
        self._episode += 1

    def _check(self, step: Step, where: str) -> None:
        if step.id in self.book.complaints:
            self._complaint(step, where)
            return
        self._known(step.id, self.book.checks, "check", where)
        check = self.book.checks[step.id]
        reads = read_values(check, step.reading, step.spread, f"{where}.reading")
        if step.instrument is not None and step.instrument not in self.book.book.instruments:
            instruments = self.book.book.instruments
            raise InputError(f"unknown instrument '{step.instrument}'", where, nearest(step.instrument, instruments))
        if step.reading == NOT_DONE:
            self.masked.add(step.id)
            return
        drive = self._drive(check, step)
        before = self.state
        asked = self._imply(check, drive)
        place = self._arrangement(check, step, drive)
        if asked or self.state.away != before.away:
            self._episode += 1
        self.questions += asked
        self.acts.append(
            ReadingAct(step.id, reads, place, step.mood, self._episode, step.instrument, step.times)
        )
        if not any(r.word in UNIVERSAL for r in reads):
            self.done.add(reading_mark(self.book, check, place))

    def _complaint(self, step: Step, where: str) -> None:
        if step.reading in (NOT_DONE, NOT_POSSIBLE):
            return
        if step.reading not in (STILL, NOW_AND_THEN, GONE):
            right = "one of " + ", ".join((STILL, GONE, *UNIVERSAL))
            raise InputError(f"unknown outcome '{step.reading}'", f"{where}.reading", right)
        self.state = self.state.with_moves(self._put_back(), implied=True)
        self._episode += 1
        self.acts.append(ComplaintAct(step.id, step.reading != GONE, self._episode))

    def _put_back(self) -> list[tuple[str, Position]]:
        return [(i, "off" if self.book.access[i].added else "on") for i in sorted(self.state.away)]

    def _repair(self, step: Step) -> None:
        repair = self.book.repairs[step.id]
        self.acts.append(RepairAct(step.id, step.by))
        if step.by == "shop":
            moves = _positions(repair.needs).items()
            self.state = self.state.with_moves([m for m in moves if not self.state.is_at(*m)], implied=True)
            self.last_repair = step.id
        self.done.clear()
        self._episode += 1

    def _drive(self, check: Check, step: Step) -> Drive:
        """What turned the engine: as said, else what stands ready on the machine, else what people use."""
        if check.runs:
            return "running"
        if step.drive is not None:
            return step.drive  # type: ignore[return-value]  # checked against the engine's words when read
        if not check.spins:
            return "none"
        ways = [w for w in self.book.drives if not check.drives or w.drive in check.drives]
        usual = [w for w in ways if w.drive != "lazy-rope"] or ways
        standing = [w for w in usual if self._stands(w)]
        return (standing or usual)[0].drive if usual else "rope"

    def _stands(self, way: DriveWay) -> bool:
        """Whether nothing that somebody recorded speaks against this way of spinning it."""
        known = self.state.said | self.state.away
        return all(self.state.is_at(i, p) for i, p in _positions(way.needs).items() if i in known)

    def _imply(self, check: Check, drive: Drive) -> list[Question]:
        """Bring the state to what the reading shows must have been so; ask where somebody recorded otherwise."""
        needs: dict[str, Position] = {}
        rest = must_rest(deed_of(check, drive))
        for item, entry in self.book.access.items():
            if rest & frozenset(entry.tokens) and item in self.state.away:
                needs[item] = "off" if entry.added else "on"
        for way in (w for w in self.book.drives if w.drive == drive):
            needs.update(_positions(way.needs))
        needs.update(_positions(check.needs))
        asked = [
            Question(i, self.state.position(i), p, check.id)
            for i, p in needs.items() if i in self.state.said and not self.state.is_at(i, p)
        ]
        wanted = _positions(check.wants)
        moves = [*needs.items(), *((i, p) for i, p in wanted.items() if i not in self.state.said)]
        missing = [m for m in moves if not self.state.is_at(*m)]
        self.state = self.state.with_moves(self._what_came_first(missing), implied=True)
        self.state = self.state.with_moves([m for m in missing if not self.state.is_at(*m)], implied=True)
        if check.spins and not cannot_fire(self.state.tokens):
            self._clear_for_a_start(needs)
        return asked

    def _what_came_first(self, moves: list[tuple[str, Position]]) -> list[tuple[str, Position]]:
        """What must have been moved before a thing of ours went on, unless somebody recorded where it stands."""
        fitted = [self.book.access[i] for i, p in moves if p == "on" and self.book.access[i].added]
        first = [m for entry in fitted for m in _positions(entry.first).items()]
        asked = {i for i, _ in moves}
        return [m for m in first if m[0] not in self.state.said | asked and not self.state.is_at(*m)]

    def _clear_for_a_start(self, needs: Mapping[str, Position]) -> None:
        """A pull that could have started the engine shows that nothing was left on it that nobody recorded."""
        guessed = [i for i in self.state.implied if i not in needs and i not in self.state.said]
        forbidden = must_rest(Deed("run"))
        left = [i for i in guessed if forbidden & frozenset(self.book.access[i].tokens)]
        rest: list[tuple[str, Position]] = [(i, "off" if self.book.access[i].added else "on") for i in left]
        self.state = self.state.with_moves(rest, implied=True)

    def _arrangement(self, check: Check, step: Step, drive: Drive) -> Arrangement:
        off, added = step.place if step.place is not None else (self.state.off_tokens, self.state.added_tokens)
        thermal = step.thermal or ("hot" if check.thermal == "hot" else "cold")
        return Arrangement(
            off, added, drive, thermal,  # type: ignore[arg-type]  # checked when read
            step.choke or check.choke, step.load or check.load,  # type: ignore[arg-type]  # checked when read
        )

    def copy(self) -> Session:
        """The same job to try a step on; predictions stay shared."""
        twin = Session(self.book, self.scales, self.prices)
        twin.state, twin.acts, twin.steps = self.state, list(self.acts), list(self.steps)
        twin.questions, twin.masked, twin.done = list(self.questions), set(self.masked), set(self.done)
        twin.last_repair, twin._episode, twin._belief = self.last_repair, self._episode, dict(self._belief)
        return twin

    @property
    def complaints(self) -> list[str]:
        """What the customer complained of, in the order it was said."""
        return list(dict.fromkeys(a.complaint for a in self.acts if isinstance(a, ComplaintAct)))

    def tried_since_repair(self, complaint: str) -> bool | None:
        """Whether a complaint still held when it was tried after the last repair; None when it was not tried."""
        for act in reversed(self.acts):
            if isinstance(act, RepairAct):
                return None
            if isinstance(act, ComplaintAct) and act.complaint == complaint and act.episode > 0:
                return act.holds
        return None

    def belief(self, settle: bool = True, between: Callable[[], None] = on_we_go) -> Belief:
        """What is believed now, remembered until the next act; where it is settled already, that is the answer.

        `between` is called between pieces of the work; what it raises ends it, and harms nothing.
        """
        for kept in (True, settle):
            if kept in self._belief and self._belief[kept][0] == len(self.acts):
                return self._belief[kept][1]
        belief = believe(self.scales, self.acts, settle, between)
        self._belief[settle] = (len(self.acts), belief)
        return belief

    @property
    def possible(self) -> Prices:
        """The shop's prices, without what could not be done on this machine."""
        return replace(self.prices, masked=self.prices.masked | self.masked)

    def forget_belief(self) -> None:
        """Let go of what was believed; it is reckoned again when it is asked for."""
        self._belief.clear()

    def advice(self, depth: int = 2, settle: bool = True) -> Advice:
        """The next step and what else was considered."""
        last = self.acts[-1] if self.acts else None
        spent = isinstance(last, ComplaintAct) and last.episode > 0 and last.holds
        tried = [self.tried_since_repair(c) for c in self.complaints]
        proved = bool(tried) and all(held is False for held in tried)
        return advise(self.belief(settle), self.state, self.possible, depth, self.is_done, spent, proved)

    def is_done(self, check: Check, place: Arrangement) -> bool:
        """Whether such a reading was taken since the machine was last changed."""
        return reading_mark(self.book, check, place) in self.done


def _positions(needs: Needs) -> dict[str, Position]:
    found: dict[str, Position] = dict.fromkeys(needs.off, "off")
    found.update(dict.fromkeys(needs.on, "on"))
    return found

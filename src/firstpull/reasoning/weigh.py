"""How likely each act is on each virtual machine: one likelihood per act and row, remembered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from firstpull.base.errors import InputError
from firstpull.engine.vocabulary.types import Arrangement, Drive
from firstpull.handbook.entries import Check, Complaint, Reading
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.acts import (
    NOT_POSSIBLE,
    NOW_AND_THEN,
    UNIVERSAL,
    Act,
    ComplaintAct,
    Read,
    ReadingAct,
    SilenceAct,
)
from firstpull.reasoning.hearing import (
    Codes,
    Ear,
    LightArray,
    coded,
    decoded,
    ear,
    in_unit,
    number_chance,
    report_chances,
    seen_chance,
    word_chances,
)
from firstpull.reasoning.worlds import SHARED, Ask, Block, Machines, Question, Row, Spot, Worlds, unit_of

FloatArray = NDArray[np.float64]

# What the shop itself hears when it tries the complaint after a repair: judgement.
BENCH_HEARS = 0.97
BENCH_MISHEARS = 0.02
# Of what a customer would say if asked only for the worst, the share that is said beside it unasked: judgement.
SAID_TOO = 0.6
# What a complaint is about happened in the owner's own hands.
OWN_HANDS = (("by_user", 1.0),)


@dataclass(frozen=True, slots=True)
class Column:
    """One thing that a check or a complaint reads in one arrangement, and how it is heard.

    `edge` is set where a place is one of several that may be reported together.
    """

    quantity: str
    question: Question
    ear: Ear
    key: str | None = None
    word: str = ""
    edge: float | None = None


def columns(book: ClassBook, check: Check, arrangement: Arrangement, instrument: str | None = None) -> list[Column]:
    """All columns of a check in an arrangement, one a reading (one a place where several may be reported)."""
    tool = book.book.instruments[instrument or check.instrument]
    question = Question(arrangement, tuple(sorted({**tool.setup, **check.setup}.items())))
    found: list[Column] = []
    for reading in check.readings:
        heard = ear(reading, tool, check.tries)
        if reading.several:
            found += [
                Column(o.reads or reading.reads, question, heard, reading.key, o.id, o.start or 0.0)
                for o in reading.outcomes
            ]
        else:
            found.append(Column(reading.reads, question, heard, reading.key))
    return found


def complaint_arrangement(book: ClassBook, complaint: Complaint) -> Arrangement:
    """How the customer had the machine when it misbehaved: whole, control held, started the usual way."""
    drive: Drive = "starter" if any(way.drive == "starter" for way in book.drives) else "rope"
    return Arrangement(frozenset(), frozenset({"control-held", "outdoors"}), drive, complaint.thermal,
                       complaint.choke, complaint.load)


def complaint_column(book: ClassBook, complaint: Complaint) -> Column:
    """The observable a complaint is heard through; its one word is the complaint itself."""
    start = -np.inf if complaint.start is None else complaint.start
    band = (start, np.inf if complaint.below is None else complaint.below)
    log = complaint.scale == "log"
    heard = Ear((band,), ("said",), unit_of(complaint.reads), log, 0.0 if log else complaint.scatter,
                complaint.scatter if log else 0.0, 0.0, 0.0, 0.0, 1, False, 1.0)
    return Column(complaint.reads, Question(complaint_arrangement(book, complaint), OWN_HANDS), heard)


def find_reading(check: Check, key: str | None) -> Reading:
    """The reading of a check with this key; a check with one reading needs none.

    Raises:
        InputError: no such reading.

    """
    if key is None and len(check.readings) == 1:
        return check.readings[0]
    for reading in check.readings:
        if reading.key == key:
            return reading
    keys = ", ".join(str(r.key) for r in check.readings)
    raise InputError(f"'{key}' is not a reading of '{check.id}'", "reading", f"one of {keys}")


@dataclass(eq=False)
class Scales:
    """Likelihoods of acts on the machines of one population."""

    worlds: Worlds
    walks: dict[tuple[object, ...], Any] = field(default_factory=dict)
    begun: dict[frozenset[str], Any] = field(default_factory=dict)
    _known: dict[tuple[object, ...], dict[Any, FloatArray]] = field(default_factory=dict)
    _columns: dict[tuple[object, ...], list[Column]] = field(default_factory=dict)

    def let_go(self) -> None:
        """Forget what was weighed: beginnings of walks hold these scales, and both would stay for each other's sake."""
        self.walks.clear()
        self.begun.clear()
        self._known.clear()

    def columns(self, check: str, arrangement: Arrangement, instrument: str | None = None) -> list[Column]:
        """The columns of a check in an arrangement, remembered."""
        key = (check, arrangement, instrument)
        if key not in self._columns:
            book = self.worlds.book
            self._columns[key] = columns(book, book.checks[check], arrangement, instrument)
        return self._columns[key]

    def reading(self, act: ReadingAct, machines: Machines) -> list[FloatArray]:
        """Chance of what the act gave, one array of shape (N,) for each row with its draws."""
        asked = self.columns(act.check, act.arrangement, act.instrument)
        spots = [self.spot(c) for c in asked]
        mark = (act.check, act.reads, act.arrangement, act.instrument, act.times)
        shared = self._known.setdefault(mark, {})
        places = []
        missing: dict[tuple[int, object], tuple[Row, Block]] = {}
        for row, block in machines:
            known = block.heard.setdefault(mark, {}) if _hang_on(asked, spots, block) else shared
            reduced = tuple([spot.touch.row(row) for spot in spots])
            places.append((known, reduced))
            if reduced not in known:
                missing[id(known), reduced] = (row, block)
        if missing:
            chances = self._act_on(act, asked, list(missing.values()))
            by_place = dict(zip(missing, chances, strict=True))
            for known, reduced in places:
                found = by_place.get((id(known), reduced))
                if found is not None:
                    known[reduced] = found
        return [known[reduced] for known, reduced in places]

    def _act_on(self, act: ReadingAct, asked: Sequence[Column], machines: Machines) -> FloatArray:
        """Chance of all that was read, shape (M, N)."""
        chance = np.ones((len(machines), self.worlds.count))
        for read in act.reads:
            chance = chance * self._read_on(read, asked, machines, act.times)
        return chance

    def spot(self, column: Column) -> Spot:
        """Where what a column reads is predicted."""
        return self.worlds.spot(column.question, column.quantity)

    def chances(self, column: Column, rows: Sequence[Row]) -> list[LightArray]:
        """Chance of each report of a column on each variant of the shared draws: what `codes` stands for.

        Args:
            column: what is read and how [1], scalar.
            rows: which faults act [1], shape (R,).

        Returns:
            A row each: chances [1], shape (N, words + 2), or (N, 1) for one place of several.

        Valid: any arrangement.
        Source: hearing.

        """
        return [decoded(codes) for codes in self.codes(column, rows)]

    def codes(self, column: Column, rows: Sequence[Row]) -> list[Codes]:
        """Chance of each report of a column on each variant of the shared draws, remembered as codes.

        Plans rest on them; what was really read is weighed as it is.

        Args:
            column: what is read and how [1], scalar.
            rows: which faults act [1], shape (R,).

        Returns:
            A row each: codes of the chances of the words, "now and then" and "not possible" [1], shape
            (N, words + 2); for one place of several, of its being reported [1], shape (N, 1).

        Valid: any arrangement.
        Source: hearing; they are read by `decoded`.

        """
        touch = self.spot(column).touch
        shelf = self.worlds.heard.setdefault(self._mark("chances", column), {})
        found = [touch.row(row) for row in rows]
        missing = [row for row in dict.fromkeys(found) if row not in shelf]
        if missing:
            value = self.values(column, [(row, SHARED) for row in missing]).ravel()
            if column.edge is not None:
                table = seen_chance(column.ear, column.edge, value)[:, None]
            else:
                table = report_chances(column.ear, value)
            shelf.update(zip(missing, np.split(coded(table), len(missing)), strict=True))
        return [shelf[row] for row in found]

    def _mark(self, kind: str, column: Column) -> tuple[object, ...]:
        """What is heard of a column by row; arrangements that make no difference to it share it."""
        return (kind, self.spot(column).key, column.ear, column.edge)

    def _read_on(self, read: Read, asked: Sequence[Column], machines: Machines, times: int) -> FloatArray:
        """Chance of one reading, shape (M, N)."""
        mine = [c for c in asked if c.key == read.key] or ([asked[0]] if read.word in UNIVERSAL else [])
        if read.places is not None:
            chance = np.ones((len(machines), self.worlds.count))
            for column in mine:
                seen = seen_chance(column.ear, column.edge or 0.0, self.values(column, machines))
                chance = chance * (seen if column.word in read.places else 1 - seen)
            return chance
        column = mine[0]
        value = self.values(column, machines)
        if read.number is not None:
            return number_chance(column.ear, value, read.number, read.spread)
        table = report_chances(column.ear, value.ravel(), times if times > 1 else None)
        return np.asarray(table[:, word_place(column.ear, read.word or "")].reshape(value.shape))

    def value(self, column: Column, row: Row, block: Block = SHARED) -> FloatArray:
        """What a column would show of one machine, as `values` has it, shape (N,)."""
        return np.asarray(self.values(column, [(row, block)])[0])

    def values(self, column: Column, machines: Machines) -> FloatArray:
        """What a column would show on average, with the instrument's own error, which all its readings share.

        Args:
            column: what is read and how [1], scalar.
            machines: which faults act, and whose draws [1], shape (M,).

        Returns:
            Values [reading's unit], shape (M, N); NaN where it cannot be read.

        Valid: any arrangement.
        Source: JCGM 100:2008 (a systematic effect, normal by judgement).

        """
        heard = column.ear
        raw = np.stack(self.worlds.values(column.question, column.quantity, machines))
        value = in_unit(raw, unit_of(column.quantity), heard.unit)
        if heard.bias == 0.0:
            return value
        from scipy.special import ndtri

        errors = {block: ndtri(self.worlds.share(bias_key(heard), block)) for _, block in machines}
        return np.asarray(value + heard.bias * np.stack([errors[block] for _, block in machines]))

    def blank_chance(self, act: ReadingAct) -> float:
        """Chance of what the act gave if anything at all were as likely."""
        asked = self.columns(act.check, act.arrangement, act.instrument)
        chance = 1.0
        for read in act.reads:
            mine = [c for c in asked if c.key == read.key] or asked[:1]
            if read.places is not None:
                chance *= 0.5 ** len(mine)
            elif read.number is None:
                chance /= len(mine[0].ear.words) + 1
        return chance

    def silence(
        self, act: SilenceAct, cold: Machines, hot: Machines
    ) -> list[FloatArray]:
        """Chance that nothing else was complained of, one array of shape (N,) a machine; each cold and hot."""
        unsaid = self._unsaid(act)
        quiet: list[list[FloatArray]] = [[] for _ in cold]
        for entry, column in unsaid:
            events = self._events(column, hot if entry.thermal == "hot" else cold)
            each = {id(event): 1 - SAID_TOO * entry.heard * event for event in events}
            for parts, event in zip(quiet, events, strict=True):
                parts.append(each[id(event)])
        known: dict[tuple[int, ...], FloatArray] = {}
        found: list[FloatArray] = []
        for parts in quiet:
            key = tuple(map(id, parts))  # equal machines have the very same parts
            if key not in known:
                known[key] = np.multiply.reduce(parts, axis=0) if parts else np.ones(self.worlds.count)
            found.append(known[key])
        return found

    def silence_asks(
        self, act: SilenceAct, cold: Machines, hot: Machines
    ) -> list[Ask]:
        """What must be predicted to weigh what was not complained of."""
        asked: dict[Question, dict[str, None]] = {}
        for _, column in self._unsaid(act):
            asked.setdefault(column.question, {})[column.quantity] = None
        return [Ask(q, tuple(own), hot if q.arrangement.thermal == "hot" else cold) for q, own in asked.items()]

    def _unsaid(self, act: SilenceAct) -> list[tuple[Complaint, Column]]:
        return [found for name, found in self._complaints.items() if name not in act.said]

    def asks(self, act: Act, cold: Machines, hot: Machines) -> list[Ask]:
        """What must be predicted to weigh an act on machines, each given as it stands cold and hot."""
        match act:
            case ReadingAct():
                asked = self.columns(act.check, act.arrangement, act.instrument)
                return [ask(asked, hot if act.arrangement.thermal == "hot" else cold)]
            case ComplaintAct():
                entry, column = self._complaints[act.complaint]
                return [ask([column], hot if entry.thermal == "hot" else cold)]
            case SilenceAct():
                return self.silence_asks(act, cold, hot)
        return []

    @cached_property
    def _complaints(self) -> dict[str, tuple[Complaint, Column]]:
        book = self.worlds.book
        return {n: (c, complaint_column(book, c)) for n, c in book.complaints.items()}

    def _events(self, column: Column, machines: Machines) -> list[FloatArray]:
        """Chance that what a complaint is about is there to be noticed, one array of shape (N,) a machine."""
        spot, mark = self.spot(column), self._mark("event", column)
        shared = self.worlds.heard.setdefault(mark, {})
        places = [
            (block.heard.setdefault(mark, {}) if spot.hangs_on(block) else shared, spot.touch.row(row))
            for row, block in machines
        ]
        missing = {(id(known), row): i for i, (known, row) in enumerate(places) if row not in known}
        if missing:
            value = self.values(column, [machines[i] for i in missing.values()])
            chance = np.where(np.isnan(value), 0.0, word_chances(column.ear, value.ravel())[:, 0].reshape(value.shape))
            for i, event in zip(missing.values(), chance, strict=True):
                known, row = places[i]
                known[row] = event
        return [known[row] for known, row in places]

    def complaint(
        self, act: ComplaintAct, machines: Machines, after_repair: bool
    ) -> list[FloatArray]:
        """Chance that the customer (or the shop, after a repair) says so, or not any more, shape (N,) a machine."""
        entry, column = self._complaints[act.complaint]
        hears, mishears = (BENCH_HEARS, BENCH_MISHEARS) if after_repair else (entry.heard, entry.false_alarm)
        found: dict[int, FloatArray] = {}
        events = self._events(column, machines)
        for event in events:
            if id(event) not in found:
                said = hears * event + mishears * (1 - event)
                found[id(event)] = said if act.holds else 1 - said
        return [found[id(event)] for event in events]


def _hang_on(asked: Sequence[Column], spots: Sequence[Spot], block: Block) -> bool:
    """Whether what is read hangs on own draws, through the machine or the instrument's own error."""
    return block is not SHARED and any(
        spot.hangs_on(block) or (column.ear.bias != 0.0 and bias_key(column.ear) in block.latents)
        for column, spot in zip(asked, spots, strict=True)
    )


def ask(asked: Sequence[Column], machines: Machines) -> Ask:
    """What must be predicted to read these columns, all of one check or complaint."""
    return Ask(asked[0].question, tuple(dict.fromkeys(c.quantity for c in asked)), machines)


def bias_key(heard: Ear) -> tuple[object, ...]:
    """The draw behind an instrument's own error, named by what the instrument is."""
    return ("bias", *heard.instrument)


def word_place(heard: Ear, word: str) -> int:
    """Where a word stands in the table of `report_chances`.

    Raises:
        InputError: the reading does not know the word.

    """
    if word in heard.words:
        return heard.words.index(word)
    if word == NOW_AND_THEN:
        return len(heard.words)
    if word == NOT_POSSIBLE:
        return len(heard.words) + 1
    raise InputError(f"unknown outcome '{word}'", "reading", "one of " + ", ".join((*heard.words, *UNIVERSAL)))

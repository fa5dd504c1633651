"""The population of virtual machines of one class on one day: where a fault meets parameters.

Every state is seen through the same draws of everything that its faults do not touch, so states that a reading
cannot tell apart share one row of predictions and are told apart by nothing. A draw is named by what it is for
(engine parameter, renewal, form of the fault's draw), never by a handbook id.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from firstpull.base import draws
from firstpull.base.spread import Spread
from firstpull.engine.machine import Machine
from firstpull.engine.predict import needed, shown
from firstpull.engine.vocabulary import OBSERVABLES, PARAMETERS
from firstpull.engine.vocabulary.types import Arrangement, Conditions, Setup
from firstpull.handbook.entries import Draw
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.acting import Acting

FloatArray = NDArray[np.float64]
LatentKey = tuple[object, ...]
Renewals = frozenset[tuple[str, int]]
MOST_BYTES = 100_000_000  # of predictions kept of one class; what instruments would show takes a few times as much
MOST_AT_ONCE = 16_384  # machines in one engine call: keeps the working set in cache


class Row(NamedTuple):
    """Which faults act on what is predicted, and how often each parameter was renewed."""

    faults: frozenset[str]
    renewed: Renewals = frozenset()


class Question(NamedTuple):
    """What is asked of the machines: quantities in one arrangement with one instrument set-up."""

    arrangement: Arrangement
    setup: tuple[tuple[str, float], ...] = ()


SpotKey = tuple[Question, str]  # the question only as far as it matters to the quantity
Machines = Sequence[tuple[Row, "Block"]]


class Ask(NamedTuple):
    """Quantities to be predicted in one place for several states, each with its draws."""

    question: Question
    quantities: Sequence[str]
    machines: Machines


@dataclass(frozen=True, eq=False)
class Touch:
    """What can matter to a quantity in an arrangement: what is off and added, parameters, and the faults that act."""

    place: Arrangement
    parameters: frozenset[str]
    acting: frozenset[str]
    known: dict[Row, Row]  # each row of a population once: places ask for the same few thousand over and over
    _rows: dict[Row, Row] = field(default_factory=dict)

    def row(self, state: Row) -> Row:
        """The row a state stands in."""
        found = self._rows.get(state)
        if found is None:
            renewed = state.renewed and frozenset((p, n) for p, n in state.renewed if p in self.parameters)
            own = Row(state.faults & self.acting, renewed)
            found = self._rows[state] = self.known.setdefault(own, own)
        return found


@dataclass(frozen=True, eq=False)
class Block:
    """Own draws of a regenerated state: latent shares by key, each shape (N,); everything else is shared.

    What was predicted and heard of these draws is kept here and goes with them.
    """

    latents: Mapping[LatentKey, FloatArray]
    predicted: dict[SpotKey, dict[Row, FloatArray]] = field(default_factory=dict)
    heard: dict[tuple[object, ...], dict[Any, FloatArray]] = field(default_factory=dict)

    @cached_property
    def parameters(self) -> frozenset[str]:
        """The engine parameters that these draws decide on; an instrument's own error is none."""
        return frozenset(str(key[1]) for key in self.latents if key[0] in ("healthy", "draw"))


SHARED = Block({})


@dataclass(frozen=True, eq=False)
class Spot:
    """One quantity in one place, and what was predicted there with the shared draws."""

    key: SpotKey
    touch: Touch
    shared: dict[Row, FloatArray]

    def hangs_on(self, block: Block) -> bool:
        """Whether own draws can matter here."""
        return block is not SHARED and not block.parameters.isdisjoint(self.touch.parameters)

    def kept(self, block: Block) -> dict[Row, FloatArray]:
        """Where predictions with these draws are kept."""
        return block.predicted.setdefault(self.key, {}) if self.hangs_on(block) else self.shared


def draw_key(draw: Draw) -> tuple[object, ...]:
    """A name for a fault's draw made of its content alone, so that renaming ids changes nothing."""
    return ("draw", draw.parameter, draw.form, draw.value, draw.values, draw.low, draw.high, draw.mean, draw.sd,
            draw.median, draw.sigma)


@dataclass(eq=False)
class Worlds:
    """Virtual machines of one class under the day's conditions, predicted when asked and remembered."""

    book: ClassBook
    conditions: Conditions
    seed: int = 0
    count: int = 256
    pick: tuple[int, int] | None = None  # only this one of so many; `count` is then 1
    _shares: dict[LatentKey, FloatArray] = field(default_factory=dict)
    traces: dict[tuple[str, ...], list[tuple[Arrangement, frozenset[str], frozenset[str]]]] = field(
        default_factory=dict
    )
    predicted: dict[SpotKey, dict[Row, FloatArray]] = field(default_factory=dict)
    heard: dict[tuple[object, ...], dict[Any, Any]] = field(default_factory=dict)
    looks: dict[tuple[object, ...], Any] = field(default_factory=dict)
    _touches: dict[tuple[str, Arrangement], Touch] = field(default_factory=dict)
    _spots: dict[SpotKey, Spot] = field(default_factory=dict)
    rows: dict[Row, Row] = field(default_factory=dict)
    _touched: dict[str, frozenset[str]] = field(default_factory=dict)
    _acted: dict[frozenset[str], tuple[frozenset[str], frozenset[str]]] = field(default_factory=dict)
    _moved: dict[Row, frozenset[str]] = field(default_factory=dict)
    _params: dict[tuple[object, ...], FloatArray] = field(default_factory=dict)

    @cached_property
    def acting(self) -> Acting:
        """Which faults of a state act, hot or cold, awake or asleep."""
        return Acting(self.book.faults)

    @property
    def size(self) -> int:
        """How many predictions are kept."""
        return sum(map(len, self.predicted.values()))

    def share(self, key: LatentKey, block: Block = SHARED) -> FloatArray:
        """The latent uniform shares behind one draw, shape (N,)."""
        own = block.latents.get(key)
        if own is not None:
            return own
        if key not in self._shares:
            if self.pick is None:
                self._shares[key] = draws.stratified((self.seed, *key), self.count)
            else:
                which, among = self.pick
                self._shares[key] = draws.stratified((self.seed, *key), among)[which : which + 1]
        return self._shares[key]

    def touched(self, fault: str) -> frozenset[str]:
        """The parameters that a fault moves."""
        if fault not in self._touched:
            self._touched[fault] = frozenset(d.parameter for d in self.book.faults[fault].draws)
        return self._touched[fault]

    def touch(self, quantity: str, arrangement: Arrangement) -> Touch:
        """What can matter to a quantity in an arrangement, remembered."""
        key = (quantity, arrangement)
        found = self._touches.get(key)
        if found is None:
            wanted, tokens = self._traced(quantity, arrangement)
            place = replace(arrangement, off=arrangement.off & tokens, added=arrangement.added & tokens)
            found = self._touches[key] = Touch(place, *self._acting_on(wanted), self.rows)
        return found

    def _acting_on(self, wanted: frozenset[str]) -> tuple[frozenset[str], frozenset[str]]:
        """Parameters and the faults that move any of them, each set once."""
        found = self._acted.get(wanted)
        if found is None:
            acting = frozenset(f for f in self.book.faults if not self.touched(f).isdisjoint(wanted))
            found = self._acted[wanted] = (wanted, acting)
        return found

    def spot(self, question: Question, quantity: str) -> Spot:
        """A quantity in a place, remembered; places that make no difference to it are one."""
        key = (question, quantity)
        found = self._spots.get(key)
        if found is None:
            touch = self.touch(quantity, question.arrangement)
            reduced = (Question(touch.place, question.setup), quantity)
            found = self._spots.get(reduced)
            if found is None:
                found = self._spots[reduced] = Spot(reduced, touch, self.predicted.setdefault(reduced, {}))
            self._spots[key] = found
        return found

    def _traced(self, quantity: str, arrangement: Arrangement) -> tuple[frozenset[str], frozenset[str]]:
        """Parameters and tokens asked for; arrangements that agree in the tokens asked for share one trace."""
        if quantity in PARAMETERS:
            return frozenset({quantity}), frozenset()
        alike = (quantity, arrangement.drive, arrangement.thermal, arrangement.choke, arrangement.load)
        traces = self.traces.setdefault(alike, [])
        for seen, wanted, tokens in traces:
            if seen.off & tokens == arrangement.off & tokens and seen.added & tokens == arrangement.added & tokens:
                return wanted, tokens
        wanted, tokens = needed(self.book.sizes, arrangement, [quantity])
        traces.append((arrangement, wanted, tokens))
        return wanted, tokens

    def healthy_spread(self, parameter: str) -> Spread:
        """How a parameter spreads on healthy machines of this class."""
        return self.book.healthy.get(parameter, PARAMETERS[parameter].healthy)

    def latent_keys(self, parameter: str, row: Row) -> list[LatentKey]:
        """The latent shares that a parameter's value follows from in this row."""
        keys: list[LatentKey] = [self._healthy_key(parameter, row)]
        keys += [draw_key(d) for d in self._draws(parameter, row)]
        return keys

    def _healthy_key(self, parameter: str, row: Row) -> LatentKey:
        times = max((n for p, n in row.renewed if p == parameter), default=0)
        return ("healthy", parameter, times)

    def _draws(self, parameter: str, row: Row) -> list[Draw]:
        found = [d for f in row.faults if parameter in self.touched(f) for d in self.book.faults[f].draws
                 if d.parameter == parameter]
        return sorted(found, key=lambda d: repr(draw_key(d))) if len(found) > 1 else found

    def parameter(self, parameter: str, row: Row, block: Block = SHARED) -> FloatArray:
        """Values of one parameter in one row, shape (N,)."""
        shared = parameter not in block.parameters
        healthy, drawn = self._healthy_key(parameter, row), self._draws(parameter, row)
        key = (parameter, healthy, *map(draw_key, drawn))
        if shared and key in self._params:
            return self._params[key]
        entry = PARAMETERS[parameter]
        value = self.healthy_spread(parameter).quantile(self.share(healthy, block))
        for draw in drawn:
            value = draw.spread(entry.low, entry.high).quantile(self.share(draw_key(draw), block), value)
        value = np.clip(value, entry.low, entry.high)
        if shared:
            self._params[key] = value
        return value

    def values(self, question: Question, quantity: str, machines: Machines) -> list[FloatArray]:
        """Predicted values of one quantity, one array of shape (N,) a machine; what was asked before is remembered."""
        spot = self.spot(question, quantity)
        places = [(spot.kept(block), spot.touch.row(row)) for row, block in machines]
        if any(row not in kept for kept, row in places):
            self.prepare([Ask(question, (quantity,), machines)])
        return [kept[row] for kept, row in places]

    def prepare(self, asks: Iterable[Ask]) -> None:
        """Predict all that is asked, each state with its draws, in as few engine calls as possible."""
        self._make_room()
        lacking: dict[tuple[Row, Block], dict[Spot, Row]] = {}
        coming: set[tuple[int, Row]] = set()
        for question, quantities, machines in asks:
            for spot in [self.spot(question, q) for q in quantities]:
                for state, block in machines:
                    row, kept = spot.touch.row(state), spot.kept(block)
                    if row not in kept and (id(kept), row) not in coming:
                        coming.add((id(kept), row))
                        used = SHARED if kept is spot.shared else block
                        lacking.setdefault((state, used), {})[spot] = row
        missing: dict[tuple[Row, Block], dict[Spot, Row]] = {}
        for (_, used), own in lacking.items():
            faults = frozenset().union(*(row.faults for row in own.values()))
            renewed: Renewals = frozenset().union(*(row.renewed for row in own.values()))
            missing.setdefault((Row(faults, renewed), used), {}).update(own)
        step = max(1, MOST_AT_ONCE // self.count)
        rows = list(missing)
        for start in range(0, len(rows), step):
            self._predict({row: missing[row] for row in rows[start : start + step]})

    def _make_room(self) -> None:
        if self.size * self.count * 8 > MOST_BYTES:
            self.forget_rare()

    def forget_rare(self) -> None:
        """Forget machines with several faults at once or with new parts in them: few jobs ask for the same."""
        for shelf in (*self.predicted.values(), *self.heard.values()):
            for row in [r for r in shelf if len(r.faults) > 1 or r.renewed]:
                del shelf[row]
        self.looks.clear()

    def _predict(self, rows: dict[tuple[Row, Block], dict[Spot, Row]]) -> None:
        """One call of the engine: what the questions have in common is worked out once."""
        asked: dict[Spot, list[int]] = {}
        for index, ((joint, block), own) in enumerate(rows.items()):
            for spot, row in own.items():
                if spot.key[1] in PARAMETERS:
                    spot.kept(block)[row] = self.parameter(spot.key[1], joint, block)
                else:
                    asked.setdefault(spot, []).append(index)
        if not asked:
            return
        params = self._laid_out(list(rows), frozenset().union(*(spot.touch.parameters for spot in asked)))
        total, machines = self.count * len(rows), list(rows.items())
        here = Machine(params, self.book.sizes, self.conditions, Arrangement(), Setup(), total)
        for spot, places in asked.items():
            question, quantity = spot.key
            there = here.rearranged(question.arrangement, Setup(dict(question.setup)) if question.setup else None)
            result = np.broadcast_to(shown(there, quantity), (total,))
            for index in places:
                (_, block), own = machines[index]
                spot.kept(block)[own[spot]] = np.array(result[index * self.count : (index + 1) * self.count])

    def _laid_out(self, rows: Sequence[tuple[Row, Block]], wanted: frozenset[str]) -> dict[str, FloatArray]:
        """Parameters of several machines one after another: as on a healthy machine but for what was moved."""
        healthy = Row(frozenset())
        laid = {p: np.tile(self.parameter(p, healthy), (len(rows), 1)) for p in sorted(wanted)}
        for index, (row, block) in enumerate(rows):
            for p in (self._moves(row) | block.parameters) & wanted:
                laid[p][index] = self.parameter(p, row, block)
        return {p: values.reshape(-1) for p, values in laid.items()}

    def _moves(self, row: Row) -> frozenset[str]:
        """The parameters that stand otherwise in a row than on a healthy machine."""
        found = self._moved.get(row)
        if found is None:
            renewed = frozenset(p for p, _ in row.renewed)
            found = self._moved[row] = renewed.union(*(self.touched(f) for f in row.faults))
        return found


def unit_of(quantity: str) -> str:
    """The unit a parameter or observable is given in."""
    return PARAMETERS[quantity].unit if quantity in PARAMETERS else OBSERVABLES[quantity].unit

"""The population of virtual machines of one class on one day: where a fault meets parameters.

Every state is seen through the same draws of everything that its faults do not touch, so states that a reading
cannot tell apart share one row of predictions and are told apart by nothing. A draw is named by what it is for
(engine parameter, renewal, form of the fault's draw), never by a handbook id.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

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

FloatArray = NDArray[np.float64]
LatentKey = tuple[object, ...]
Renewals = frozenset[tuple[str, int]]
ValueKey = tuple[tuple[object, ...], "Question", str, "Row"]
MOST_BYTES = 100_000_000  # of predictions kept of one class; what instruments would show takes a few times as much
MOST_AT_ONCE = 16_384  # machines in one engine call: keeps the working set in cache


@dataclass(frozen=True, slots=True)
class Row:
    """Which faults act on what is predicted, and how often each parameter was renewed."""

    faults: frozenset[str]
    renewed: Renewals = frozenset()


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of the machines: quantities in one arrangement with one instrument set-up."""

    arrangement: Arrangement
    setup: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, eq=False)
class Touch:
    """What can matter to a quantity in an arrangement: what is off and added, parameters, and the faults that act."""

    place: Arrangement
    parameters: frozenset[str]
    acting: frozenset[str]

    def row(self, state: Row) -> Row:
        """The row a state stands in."""
        renewed = state.renewed and frozenset((p, n) for p, n in state.renewed if p in self.parameters)
        return Row(state.faults & self.acting, renewed)


@dataclass(frozen=True, eq=False)
class Block:
    """Own draws of a regenerated state: latent shares by key, each shape (N,); everything else is shared.

    The name says what the draws follow from, so that the same block made again finds its predictions.
    """

    name: tuple[object, ...]
    latents: Mapping[LatentKey, FloatArray]

    @cached_property
    def parameters(self) -> frozenset[str]:
        """The engine parameters that these draws decide on; an instrument's own error is none."""
        return frozenset(str(key[1]) for key in self.latents if key[0] in ("healthy", "draw"))


SHARED = Block((), {})


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
    _touches: dict[tuple[str, Arrangement], Touch] = field(default_factory=dict)
    predicted: dict[ValueKey, FloatArray] = field(default_factory=dict)
    heard: dict[tuple[object, ...], dict[tuple[Row, tuple[object, ...]], FloatArray]] = field(default_factory=dict)
    looks: dict[tuple[object, ...], Any] = field(default_factory=dict)
    _own: dict[ValueKey, FloatArray] = field(default_factory=dict)
    _touched: dict[str, frozenset[str]] = field(default_factory=dict)
    _params: dict[tuple[object, ...], FloatArray] = field(default_factory=dict)

    def for_job(self) -> Worlds:
        """The same machines for one job: what is shared stays shared, regenerated states are the job's own."""
        return replace(self, _own={})

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
            acting = frozenset(f for f in self.book.faults if self.touched(f) & wanted)
            found = self._touches[key] = Touch(place, wanted, acting)
        return found

    def needs(self, quantity: str, arrangement: Arrangement) -> frozenset[str]:
        """The parameters that a quantity depends on; a parameter seen directly depends on itself."""
        return self.touch(quantity, arrangement).parameters

    def matters(self, quantity: str, arrangement: Arrangement) -> Arrangement:
        """The arrangement with only those things off and added that a quantity depends on."""
        return self.touch(quantity, arrangement).place

    def row(self, quantity: str, arrangement: Arrangement, state: Row) -> Row:
        """The row a state stands in for this quantity: only what can matter to it."""
        return self.touch(quantity, arrangement).row(state)

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
        if parameter not in block.parameters:
            block = SHARED
        healthy, drawn = self._healthy_key(parameter, row), self._draws(parameter, row)
        key = (parameter, healthy, tuple(map(draw_key, drawn)), block.name)
        if key in self._params:
            return self._params[key]
        entry = PARAMETERS[parameter]
        value = self.healthy_spread(parameter).quantile(self.share(healthy, block))
        for draw in drawn:
            value = draw.spread(entry.low, entry.high).quantile(self.share(draw_key(draw), block), value)
        value = np.clip(value, entry.low, entry.high)
        if block is SHARED:
            self._params[key] = value
        return value

    def values(
        self, question: Question, quantity: str, machines: Sequence[tuple[Row, Block]]
    ) -> list[FloatArray]:
        """Predicted values of one quantity, one array of shape (N,) a machine; what was asked before is remembered."""
        self.prepare(question, [quantity], machines)
        found = []
        for row, block in machines:
            key, used = self._key(question, quantity, row, block)
            found.append(self._kept(used)[key])
        return found

    def counts(self, quantity: str, arrangement: Arrangement, block: Block) -> Block:
        """The block as far as it can matter to a quantity: the shared draws where it cannot."""
        if block is SHARED or not block.parameters & self.needs(quantity, arrangement):
            return SHARED
        return block

    def _key(self, question: Question, quantity: str, state: Row, block: Block) -> tuple[ValueKey, Block]:
        touch = self.touch(quantity, question.arrangement)
        used = block if block is not SHARED and block.parameters & touch.parameters else SHARED
        return (used.name, Question(touch.place, question.setup), quantity, touch.row(state)), used

    def _kept(self, block: Block) -> dict[ValueKey, FloatArray]:
        return self.predicted if block is SHARED else self._own

    def prepare(self, question: Question, quantities: Sequence[str], machines: Sequence[tuple[Row, Block]]) -> None:
        """Predict several quantities for several states, each with its draws, in as few engine calls as possible."""
        self._make_room()
        missing: dict[tuple[Row, Block], dict[str, ValueKey]] = {}
        for state, block in dict.fromkeys(machines):
            lacking: dict[Block, dict[str, ValueKey]] = {}
            for q in quantities:
                key, used = self._key(question, q, state, block)
                if key not in self._kept(used):
                    lacking.setdefault(used, {})[q] = key
            for used, own in lacking.items():
                joint = Row(
                    frozenset().union(*(k[3].faults for k in own.values())),
                    frozenset().union(*(k[3].renewed for k in own.values())),
                )
                missing.setdefault((joint, used), {}).update(own)
        step = max(1, MOST_AT_ONCE // self.count)
        rows = list(missing)
        for start in range(0, len(rows), step):
            self._predict(question, {row: missing[row] for row in rows[start : start + step]})

    def _make_room(self) -> None:
        """Forget machines with several faults at once, the rarest asked for, before the shelf grows too large."""
        if len(self.predicted) * self.count * 8 > MOST_BYTES:
            for key in [k for k in self.predicted if len(k[3].faults) > 1 or k[3].renewed]:
                del self.predicted[key]
            self.heard.clear()
            self.looks.clear()

    def _predict(self, question: Question, rows: dict[tuple[Row, Block], dict[str, ValueKey]]) -> None:
        wanted = dict.fromkeys(q for own in rows.values() for q in own)
        asked = [q for q in wanted if q not in PARAMETERS]
        needed_here = sorted(set().union(*(self.needs(q, question.arrangement) for q in asked))) if asked else []
        params = {p: np.concatenate([self.parameter(p, *row) for row in rows]) for p in needed_here}
        total = self.count * len(rows)
        machine = Machine(
            params, self.book.sizes, self.conditions, question.arrangement, Setup(dict(question.setup)), total
        )
        results = {q: np.broadcast_to(shown(machine, q), (total,)) for q in asked}
        for index, ((row, block), own) in enumerate(rows.items()):
            part = slice(index * self.count, (index + 1) * self.count)
            for q, key in own.items():
                value = np.array(results[q][part]) if q in results else self.parameter(q, row, block)
                self._kept(block)[key] = value


def unit_of(quantity: str) -> str:
    """The unit a parameter or observable is given in."""
    return PARAMETERS[quantity].unit if quantity in PARAMETERS else OBSERVABLES[quantity].unit

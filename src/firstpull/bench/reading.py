"""From what was typed or tapped to what reasoning takes: once, at the door."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from firstpull.base import quantity
from firstpull.base.errors import InputError
from firstpull.handbook.entries import Check, Reading
from firstpull.reasoning.acts import NOT_DONE, UNIVERSAL, Read

_WIDEST = 1e300  # beyond it no number of any unit is a width


def read_values(check: Check, raw: Any, spread: Any = None, where: str = "reading") -> tuple[Read, ...]:
    """What a check gave, with units converted to those the handbook uses.

    A word is an outcome's id, its name or another word for it; a number carries its unit; a check with several
    readings takes a table of them, not all of which need be given.

    Raises:
        InputError: the check does not know the word, or the unit does not fit.
    """
    if isinstance(raw, str) and raw in UNIVERSAL:
        return () if raw == NOT_DONE else (Read(check.readings[0].key, word=raw),)
    if isinstance(raw, Mapping):
        if not raw:
            keys = ", ".join(f"{r.key or 'reading'} = .." for r in check.readings)
            raise InputError("an empty table", where, "{" + keys + "}")
        found = [(_reading(check, str(key), where), key) for key in raw]
        # In the order of the check, so that a record that sorts its keys replays to the same acts.
        found.sort(key=lambda pair: check.readings.index(pair[0]))
        return tuple(_one(reading, raw[key], spread, f"{where}.{key}") for reading, key in found)
    if len(check.readings) > 1:
        return (_single(check, raw, spread, where),)
    return (_one(check.readings[0], raw, spread, where),)


def _single(check: Check, raw: Any, spread: Any, where: str) -> Read:
    """A bare reading of a check with several: the first reading that takes it."""
    for reading in check.readings:
        try:
            return _one(reading, raw, spread, where)
        except InputError:
            continue
    keys = ", ".join(f"{r.key} = .." for r in check.readings)
    raise InputError(f"'{raw}' fits none of its readings", where, "{" + keys + "}")


def _reading(check: Check, key: str, where: str) -> Reading:
    for reading in check.readings:
        if key == (reading.key or "reading"):
            return reading
    keys = ", ".join(str(r.key) for r in check.readings)
    raise InputError(f"'{key}' is not a reading of '{check.id}'", where, f"one of {keys}")


def _one(reading: Reading, raw: Any, spread: Any, where: str) -> Read:
    if reading.several:
        places = [raw] if isinstance(raw, str) else raw
        if not isinstance(places, list):
            raise InputError(f"{raw!r} is not a list of places", where, _offer(reading))
        found = tuple(_word(reading, place, where) for place in places if place not in ("nowhere", "none"))
        return Read(reading.key, places=found)
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise InputError(f"{raw!r} is not a reading", where, _offer(reading))
    if isinstance(raw, str):
        word = _known_word(reading, raw)
        if word is not None:
            return Read(reading.key, word=word)
    if not reading.number:
        raise InputError(f"unknown outcome '{raw}'", where, _offer(reading))
    number = quantity.parse(str(raw), reading.unit)
    return Read(reading.key, number=number, spread=_spread(reading, spread, where))


def _spread(reading: Reading, spread: Any, where: str) -> float:
    """The hand's own give-or-take, in the reading's unit; a bare number is in that unit already."""
    if spread is None or spread == "":
        return 0.0
    if isinstance(spread, str):
        # The difference of two readings, so that a scale with its own zero gives a width as well.
        unit = spread.strip().lstrip("+-0123456789.,eE").strip() or reading.unit
        value = quantity.parse(spread, reading.unit) - quantity.parse(f"0 {unit}", reading.unit)
    elif isinstance(spread, int | float) and not isinstance(spread, bool):
        value = float(spread) if abs(spread) < _WIDEST else float("inf")
    else:
        value = float("nan")
    if not 0 <= value < float("inf"):
        raise InputError(f"a give-or-take of {spread!r}", where, f"zero or more, for example '1 {reading.unit}'")
    return value


def _word(reading: Reading, raw: Any, where: str) -> str:
    word = _known_word(reading, str(raw))
    if word is None:
        raise InputError(f"unknown outcome '{raw}'", where, _offer(reading))
    return word


def _known_word(reading: Reading, raw: str) -> str | None:
    if raw in UNIVERSAL:
        return raw
    plain = raw.strip().casefold()
    for outcome in reading.outcomes:
        if plain == outcome.id or plain in (w.casefold() for w in (outcome.name, *outcome.also)):
            return outcome.id
    return None


def _offer(reading: Reading) -> str:
    words = ", ".join(o.id for o in reading.outcomes)
    number = f", or a number with its unit, for example '12 {reading.unit}'" if reading.number else ""
    return f"one of {words}, {', '.join(UNIVERSAL)}{number}"

"""A case as it is written down: machine, complaint, what was told, and the steps done so far."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, get_args

from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.engine.vocabulary.types import CHOKES, DRIVES, LOADS, THERMALS, Conditions
from firstpull.handbook.book import Book
from firstpull.handbook.findings import nearest

By = Literal["owner", "shop", "previous"]
Mood = Literal["failing", "fine", "unknown"]
WITH = {"thermal": THERMALS, "drive": DRIVES, "choke": CHOKES, "load": LOADS}
STEP_KEYS = {
    "check": {"check", "reading", "with", "while", "by", "instrument", "spread", "times", "place"},
    "access": {"access", "state"},
    "repair": {"repair", "by"},
    "told": {"told", "answer"},
}
CASE_KEYS = {"machine", "complaint", "told", "conditions", "step"}


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that was done, with every word known to the handbook."""

    kind: Literal["check", "access", "repair", "told"]
    id: str
    reading: Any = None
    state: Literal["off", "on"] = "off"
    answer: Literal["yes", "no", "unknown"] = "yes"
    by: By = "shop"
    mood: Mood = "unknown"
    thermal: str | None = None
    drive: str | None = None
    choke: str | None = None
    load: str | None = None
    instrument: str | None = None
    spread: str | float | None = None
    times: int = 1
    place: tuple[frozenset[str], frozenset[str]] | None = None


@dataclass(frozen=True, slots=True)
class Case:
    """Everything that is known about one machine before the program has said a word."""

    machine: str
    complaint: tuple[str, ...]
    told: tuple[str, ...]
    conditions: Conditions
    steps: tuple[Step, ...]


def read_case_file(path: Path, book: Book) -> Case:
    """The case in a TOML file.

    Raises:
        FirstpullError: the file cannot be read, or what is wrong with it, all at once.
    """
    try:
        raw = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise InputError(error.strerror or "cannot be read", str(path), "a case file") from error
    except RecursionError as error:
        raise InputError("nested too deep to read", str(path), "plain tables") from error
    except ValueError as error:  # of TOML, of UTF-8, and of numbers too long to read
        raise InputError(str(error), str(path), "a TOML document in UTF-8") from error
    return read_case(raw, book, str(path))


def read_case(raw: object, book: Book, where: str = "case") -> Case:
    """The case in a dictionary.

    Raises:
        ManyErrors: all that is wrong with it.
    """
    if not isinstance(raw, Mapping):
        raise InputError("not a table of keys", where, "machine, complaint, told, conditions, step")
    errors: list[FirstpullError] = [*_unknown_keys(raw, CASE_KEYS, where)]
    machine = raw.get("machine")
    if not isinstance(machine, str) or machine not in book.machines:
        right = nearest(str(machine), book.machines)
        errors.append(InputError(f"unknown machine class {machine!r}", f"{where}.machine", right))
    complaint = _ids(raw.get("complaint", []), book.complaints, f"{where}.complaint", errors)
    told = _ids(raw.get("told", []), book.told, f"{where}.told", errors)
    conditions = _conditions(raw.get("conditions", {}), f"{where}.conditions", errors)
    steps: list[Step] = []
    listed = raw.get("step", [])
    if not isinstance(listed, list):
        errors.append(InputError("not a list", f"{where}.step", "[[step]] tables"))
        listed = []
    for number, entry in enumerate(listed, start=1):
        try:
            steps.append(read_step(entry, book, f"{where}.step[{number}]"))
        except ManyErrors as many:
            errors += many.errors
        except FirstpullError as error:
            errors.append(error)
    if errors:
        raise ManyErrors(errors)
    return Case(str(machine), complaint, told, conditions, tuple(steps))


def read_step(raw: object, book: Book, where: str = "step") -> Step:
    """One step in a dictionary.

    Raises:
        FirstpullError: what is wrong with it.
    """
    if not isinstance(raw, Mapping):
        raise InputError("not a table of keys", where, "a check, an access, a repair or a told")
    kinds = [k for k in STEP_KEYS if k in raw]
    if len(kinds) != 1:
        found = ", ".join(map(str, raw)) or "nothing"
        raise InputError(f"found {found}", where, "exactly one of check, access, repair, told")
    kind = kinds[0]
    errors: list[FirstpullError] = [*_unknown_keys(raw, STEP_KEYS[kind], where)]
    name = raw[kind]
    shelves: dict[str, Iterable[str]] = {
        "check": [*book.checks, *book.complaints], "access": book.access, "repair": book.repairs, "told": book.told,
    }
    known = set(shelves[kind])
    if not isinstance(name, str) or name not in known:
        errors.append(InputError(f"unknown {kind} {name!r}", f"{where}.{kind}", nearest(str(name), known)))
    words = _words(raw, where, errors)
    if kind == "check" and "reading" not in raw:
        errors.append(InputError("no reading", f"{where}.reading", "an outcome, a number with its unit, or 'not-done'"))
    if errors:
        raise ManyErrors(errors)
    return Step(kind, str(name), raw.get("reading"), **words)  # type: ignore[arg-type]  # kind is one of the keys above


def _words(raw: Mapping[str, Any], where: str, errors: list[FirstpullError]) -> dict[str, Any]:
    """The closed words of a step, checked."""
    found: dict[str, Any] = {}
    closed = {"state": ("off", "on"), "answer": ("yes", "no", "unknown"), "by": get_args(By), "while": get_args(Mood)}
    for key, allowed in closed.items():
        if key in raw:
            if raw[key] not in allowed:
                errors.append(_unknown_word(raw[key], f"{where}.{key}", allowed))
            found["mood" if key == "while" else key] = raw[key]
    extra = raw.get("with", {})
    if not isinstance(extra, Mapping):
        errors.append(InputError("not a table", f"{where}.with", "{drive = .., thermal = ..}"))
        extra = {}
    errors += _unknown_keys(extra, {*WITH, "instrument", "spread", "times"}, f"{where}.with")
    for key, allowed in WITH.items():
        if key in extra and extra[key] not in allowed:
            errors.append(_unknown_word(extra[key], f"{where}.with.{key}", allowed))
        elif key in extra:
            found[key] = extra[key]
    for key in ("instrument", "spread", "times"):
        if key in extra or key in raw:
            found[key] = extra.get(key, raw.get(key))
    if "place" in raw:
        found["place"] = _place(raw["place"], f"{where}.place", errors)
    _plain_values(found, where, errors)
    return found


def _plain_values(found: Mapping[str, Any], where: str, errors: list[FirstpullError]) -> None:
    """The values of a step that are no closed words: what kind of value each is."""
    times = found.get("times", 1)
    if not isinstance(times, int) or isinstance(times, bool) or not 1 <= times <= 20:
        errors.append(InputError(f"{times!r} tries", f"{where}.times", "a whole number from 1 to 20"))
    if "instrument" in found and not isinstance(found["instrument"], str):
        errors.append(InputError(f"{found['instrument']!r} is no id", f"{where}.instrument", "the id of an instrument"))
    spread = found.get("spread", "")
    if isinstance(spread, bool) or not isinstance(spread, str | int | float):
        errors.append(InputError(f"{spread!r} is no width", f"{where}.spread", "a number with its unit"))


def _place(raw: object, where: str, errors: list[FirstpullError]) -> tuple[frozenset[str], frozenset[str]] | None:
    """The arrangement a recorded reading was taken in: what was off, what was added."""
    sides = [raw.get(side, []) for side in ("off", "added")] if isinstance(raw, Mapping) else [None]
    if not all(isinstance(s, list) and all(isinstance(w, str) for w in s) for s in sides):
        errors.append(InputError("not an arrangement", where, "{off = [..], added = [..]}"))
        return None
    return frozenset(sides[0] or ()), frozenset(sides[1] or ())


def _unknown_word(word: object, where: str, allowed: Iterable[str]) -> InputError:
    return InputError(f"unknown word {word!r}", where, "one of " + ", ".join(allowed))


def _unknown_keys(raw: Mapping[Any, Any], known: set[str], where: str) -> list[FirstpullError]:
    odd = [key for key in raw if key not in known]
    return [InputError(f"unknown key {key!r}", f"{where}.{key}", nearest(str(key), known)) for key in odd]


def _ids(raw: object, known: Iterable[str], where: str, errors: list[FirstpullError]) -> tuple[str, ...]:
    names = [raw] if isinstance(raw, str) else raw
    if not isinstance(names, list):
        errors.append(InputError("not a list", where, "a list of ids"))
        return ()
    shelf = set(known)
    for name in names:
        if not isinstance(name, str) or name not in shelf:
            errors.append(InputError(f"unknown id {name!r}", where, nearest(str(name), shelf)))
    return tuple(str(n) for n in names)


def _conditions(raw: object, where: str, errors: list[FirstpullError]) -> Conditions:
    usual = Conditions()
    if not isinstance(raw, Mapping):
        errors.append(InputError("not a table", where, "altitude_m and air_c"))
        return usual
    errors += _unknown_keys(raw, {"altitude_m", "air_c"}, where)
    bounds = {"altitude_m": (-430.0, 6000.0), "air_c": (-40.0, 60.0)}
    found: dict[str, float] = {}
    for key, (low, high) in bounds.items():
        value = raw.get(key, getattr(usual, key))
        if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            errors.append(InputError(f"{value!r} cannot be", f"{where}.{key}", f"a number from {low:g} to {high:g}"))
        else:
            found[key] = float(value)
    return Conditions(found.get("altitude_m", usual.altitude_m), found.get("air_c", usual.air_c))

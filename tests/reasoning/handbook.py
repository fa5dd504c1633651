"""Handbooks made up for one question each, so small that the right answer can be worked out another way."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import BaseModel

from firstpull.engine.vocabulary.types import Arrangement, Conditions
from firstpull.handbook.book import Book, make_book
from firstpull.handbook.entries import Entry
from firstpull.handbook.schema import MODELS
from firstpull.handbook.select import for_class
from firstpull.reasoning.acts import Read, ReadingAct
from firstpull.reasoning.weigh import Scales
from firstpull.reasoning.worlds import Worlds

MACHINE = "made-up"
Raw = dict[str, Any]
Made = tuple[str, Entry]

_USUAL: dict[str, Raw] = {
    "fault": {"part": "thing", "rate": {"default": 10.0}, "plain": "it is wrong", "draws": []},
    "check": {"part": "thing", "minutes": 1.0, "how": ["Look."], "instrument": "eye"},
    "repair": {"part": "thing", "minutes": 5.0, "how": ["Mend."]},
    "access": {"tokens": [], "off_minutes": 1.0, "on_minutes": 1.0},
    "complaint": {"group": "runs badly"},
    "told": {"question": "Was it so?"},
    "instrument": {"blunder": 0.01},
    "drive": {},
    "machine": {"sizes": {"rope_in_cover": "yes"}, "worth": [50.0, 100.0, 200.0], "drawing": "thing"},
    "release": {},
}


def entry(kind: str, name: str, **given: Any) -> Made:
    """One entry with what the question is about; the rest is the usual."""
    raw = {"id": name, "name": name, "source": "judgement", **_USUAL[kind], **given}
    made = MODELS[kind].model_validate(raw)
    assert isinstance(made, Entry)
    return kind, made


def fault(name: str, parameter: str, rate: float = 10.0, **given: Any) -> Made:
    """A fault that sets one parameter; fixed at 1 unless a form is given."""
    draw = given.pop("draw", {"form": "fixed", "value": 1.0})
    return entry("fault", name, rate={"default": rate}, draws=[{"parameter": parameter, **draw}], **given)


def look(name: str, reads: str, edges: Mapping[str, float | None], **given: Any) -> Made:
    """A check with one reading; `edges` gives each word and the value below which it is said (None: all above)."""
    reading = {"model": "eye-and-hand", "reads": reads, "scatter": 0.2, "false_alarm": 0.02}
    reading |= given.pop("reading", {})
    return entry("check", name, reading=[{**reading, "outcomes": bands(edges)}], **given)


def bands(edges: Mapping[str, float | None]) -> list[Raw]:
    """Outcomes that cover the whole line."""
    found: list[Raw] = []
    start: float | None = None
    for word, below in edges.items():
        one: Raw = {"id": word, "name": word}
        one |= {} if start is None else {"from": start}
        one |= {} if below is None else {"below": below}
        found.append(one)
        start = below
    return found


def book_of(entries: Sequence[Made], healthy: Sequence[Raw] = ()) -> Book:
    """A book of these entries with one machine class and an eye."""
    own = [{"source": "judgement", **h} for h in healthy]
    shelves: dict[str, dict[str, BaseModel]] = {}
    usual = [entry("machine", MACHINE, healthy=own), entry("instrument", "eye", bare=True)]
    for kind, made in [*usual, *entries]:
        shelves.setdefault(kind, {})[made.id] = made
    return make_book(shelves)


def scales_of(entries: Sequence[Made], healthy: Sequence[Raw] = (), count: int = 4, seed: int = 0) -> Scales:
    """The likelihoods of a small handbook on its own population."""
    return Scales(Worlds(for_class(book_of(entries, healthy), MACHINE), Conditions(), seed, count))


def said(check: str, word: str, episode: int = 1, **given: Any) -> ReadingAct:
    """A reading that gave a word."""
    place = given.pop("arrangement", Arrangement())
    return ReadingAct(check, (Read(word=word),), place, episode=episode, **given)


def measured(check: str, number: float, episode: int = 1, **given: Any) -> ReadingAct:
    """A reading that gave a number."""
    place = given.pop("arrangement", Arrangement())
    return ReadingAct(check, (Read(number=number),), place, episode=episode, **given)

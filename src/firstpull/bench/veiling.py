"""The workshop as seen by a screen that may not know whose the machines are: the work is there, the people are not.

Names, telephone numbers and addresses are taken out where the record is read, so that no page, sheet or answer made
from it can hold them; a page that is added later is veiled without knowing it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from firstpull.base.errors import RefusedError
from firstpull.bench.shop import Shop
from firstpull.workshop.events import Event
from firstpull.workshop.fold import fold
from firstpull.workshop.line import JobLine, facts_words, private_words, words_in
from firstpull.workshop.port import Look, Offer, Store

INSTEAD = "the owner"
# Fields that hold nothing but a person's name; free words keep everything else that they say.
NAMING = frozenset({"who", "to", "may_approve"})
FREE_WORDS = frozenset({"words", "text", "caption"})
_NUMBER_LIKE = re.compile(r"\+?\d(?:[\s()/.-]*\d){6,}")
_MAIL_LIKE = re.compile(r"\S+@\S+")
SHORTEST_NAME = 3
MOST_FOUND = 50
_OPEN = frozenset(
    {"append", "next_number", "jobs", "put_person", "put_setting", "get_setting", "settings", "put_blob", "get_blob",
     "put_stamp", "get_stamp", "check"}
)  # fmt: skip


def veiled(shop: Shop) -> Shop:
    """The same workshop without the people: what is done through it is kept whole, what is read through it is not."""
    return _VeiledShop(shop)


class _VeiledShop(Shop):
    """Everything of the shop itself, but for its store."""

    def __init__(self, shop: Shop) -> None:
        object.__setattr__(self, "_of", shop)
        object.__setattr__(self, "_veil", VeiledStore(shop.store))

    def __getattribute__(self, name: str) -> Any:
        own = object.__getattribute__(self, "__dict__")
        if name == "store":
            return own["_veil"]
        shop = own["_of"]
        return getattr(shop, name) if name in vars(shop) else object.__getattribute__(self, name)

    def __setattr__(self, name: str, value: Any) -> None:
        setattr(object.__getattribute__(self, "__dict__")["_of"], name, value)


class VeiledStore:
    """A store that reads nobody's name and writes everything; what is not named here is not reached through it."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def __getattr__(self, name: str) -> Any:
        if name in _OPEN:
            return getattr(self._store, name)
        raise RefusedError("the whole record leaves only from the bench screen", name, "do it at the bench screen")

    def read(self, job: str, after_seq: int = 0) -> tuple[Event, ...]:
        """The job's events without the people in them."""
        return self._without(self._store.read(job, after_seq))

    def find_act(self, act_id: str) -> tuple[Event, ...]:
        """The events of one act without the people in them."""
        return self._without(self._store.find_act(act_id))

    def offer(self, events: Sequence[Event], look: Look) -> Offer:
        """Store the events whole; what comes back is veiled."""
        offer = self._store.offer(events, look)
        return Offer(self._without(offer.stored), self._without(offer.changed))

    def get_person(self, person: str) -> Mapping[str, Any] | None:
        """Nothing: nobody is known here."""
        return None

    def find_people(self, text: str, limit: int = 20) -> tuple[tuple[str, Mapping[str, Any]], ...]:
        """Nobody."""
        return ()

    def search(self, text: str, limit: int = MOST_FOUND) -> tuple[JobLine, ...]:
        """The jobs found by what can be seen here; a name finds nothing."""
        asked = words_in(text)
        return tuple(line for line in self._store.search(text, limit) if self._shows(line.job, asked))

    def _shows(self, job: str, asked: Iterable[str]) -> bool:
        record = fold(self.read(job), job)
        seen = facts_words(record) | private_words(record)
        return all(any(word.startswith(one) for word in seen) for one in asked)

    def _without(self, events: tuple[Event, ...]) -> tuple[Event, ...]:
        """The events with every known word of the job's people taken out."""
        people: dict[str, tuple[str, ...]] = {}
        for job in {event.job for event in events}:
            people[job] = self._names(job)
        return tuple(replace(e, body=_plain(e.body, people[e.job])) for e in events)

    def _names(self, job: str) -> tuple[str, ...]:
        """All that is kept of a job's people, longest first, and the single words of their names."""
        found: set[str] = set()
        for event in self._store.read(job):
            for key in NAMING & event.body.keys():
                found.update(_texts(event.body[key]))
            person = event.body.get("person")
            if isinstance(person, str) and person:
                found.update(_texts(self._store.get_person(person)))
        found |= {word for text in found for word in text.split()}
        return tuple(sorted((t for t in found if len(t.strip()) >= SHORTEST_NAME), key=lambda t: (-len(t), t)))


def _texts(value: Any) -> list[str]:
    """Every text in a value."""
    if isinstance(value, str):
        return [value]
    if isinstance(value, Mapping):
        return [text for one in value.values() for text in _texts(one)]
    return [text for one in value for text in _texts(one)] if isinstance(value, (list, tuple)) else []


def _plain(body: Mapping[str, Any], names: Sequence[str]) -> dict[str, Any]:
    """A body without names: those that only name somebody go, free words are cleaned."""
    return {key: _cleaned(key, value, names) for key, value in body.items()}


def _cleaned(key: str, value: Any, names: Sequence[str]) -> Any:
    if key in NAMING and value:
        # "mend" and "find" in an approval's `to` are no names.
        return value if value in ("find", "mend", "scrap", "instructor") else INSTEAD
    if isinstance(value, str) and key in FREE_WORDS:
        return without_names(value, names)
    return value


def without_names(text: str, names: Sequence[str]) -> str:
    """Free words without the names given, and without what looks like a telephone number or a mail address."""
    text = _MAIL_LIKE.sub(INSTEAD, _NUMBER_LIKE.sub(INSTEAD, text))
    for name in names:
        text = re.sub(rf"(?<!\w){re.escape(name)}(?!\w)", INSTEAD, text)
    return text

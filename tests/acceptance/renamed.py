"""The handbook with every id replaced by a random one and every text emptied."""

from __future__ import annotations

import random
from typing import Any

from firstpull.handbook.book import SHELVES, Book, make_book

KINDS = (
    "fault",
    "check",
    "repair",
    "access",
    "drive",
    "complaint",
    "told",
    "instrument",
    "caution",
    "release",
    "machine",
)
TEXTS = {"name", "plain", "prevent", "unreliable", "habit", "forbids", "text", "more", "question", "about", "outside"}
LISTS = {"how", "phrases", "also"}


class Renamer:
    """One new name for each old one, a kind at a time."""

    def __init__(self, book: Book, seed: int = 7) -> None:
        self._draw = random.Random(seed)
        self.names: dict[str, dict[str, str]] = {}
        for kind in KINDS:
            self.names[kind] = {name: self._fresh() for name in getattr(book, SHELVES[kind])}
        checks = [o.id for c in book.checks.values() for r in c.readings for o in r.outcomes]
        self.names["outcome"] = {name: self._fresh() for name in dict.fromkeys(checks)}
        self.names["key"] = {k: self._fresh() for c in book.checks.values() for r in c.readings if (k := r.key)}
        self.names["spec"] = {s.id: self._fresh() for m in book.machines.values() for s in m.specs}
        self.book = make_book({k: self._shelf(book, k) for k in KINDS})

    def _fresh(self) -> str:
        return "z" + "".join(self._draw.choice("bcdfghjkmnpqrstvwx") for _ in range(14))

    def to(self, kind: str, name: str) -> str:
        """The new name."""
        return self.names[kind].get(name, name)

    def _shelf(self, book: Book, kind: str) -> dict[str, Any]:
        found = {}
        for entry in getattr(book, SHELVES[kind]).values():
            raw = entry.model_dump(by_alias=True, exclude_unset=True)
            if kind == "check":
                raw["instrument"] = entry.instrument
            new = type(entry).model_validate(self._entry(kind, raw))
            found[new.id] = new
        return found

    def _entry(self, kind: str, raw: dict[str, Any]) -> dict[str, Any]:
        done = {key: self._value(kind, key, value) for key, value in raw.items()}
        return done | {"id": self.to(kind, raw["id"])}

    def _value(self, kind: str, key: str, value: Any) -> Any:
        ids = {
            "told": "told",
            "brings": "fault",
            "cures": "fault",
            "besides": "fault",
            "rate": "machine",
            "by_class": "machine",
            "instrument": "instrument",
            "varies": "access",
            "safer": "check",
            "cautions": "caution",
            "check": "check",
            "spec": "spec",
            "outcomes": "outcome",
        }
        if key in TEXTS:
            return "x"
        if key in LISTS:
            return ["x" for _ in value]
        if key in ("needs", "wants", "first"):
            return {side: [self.to("access", i) for i in items] for side, items in value.items()}
        if key == "proof":
            return {
                "check": self.to("check", value["check"]),
                "outcomes": [self.to("outcome", o) for o in value["outcomes"]],
            }
        if key == "reading":
            return [self._reading(r) for r in value]
        if key == "spec" and kind == "machine":
            return [s | {"id": self.to("spec", s["id"]), "name": "x"} for s in value]
        if key == "values":
            return [v | {"name": "x"} | ({"spec": self.to("spec", v["spec"])} if v.get("spec") else {}) for v in value]
        if key == "parts":
            return [p | {"name": "x"} for p in value]
        if key not in ids:
            return value
        if isinstance(value, dict):
            return {self.to(ids[key], k): v for k, v in value.items()}
        return self.to(ids[key], value) if isinstance(value, str) else [self.to(ids[key], v) for v in value]

    def _reading(self, raw: dict[str, Any]) -> dict[str, Any]:
        words = [o | {"id": self.to("outcome", o["id"]), "name": "x", "also": []} for o in raw["outcomes"]]
        done = raw | {"outcomes": words}
        if raw.get("key"):
            done["key"] = self.to("key", raw["key"])
        if raw.get("spec"):
            done["spec"] = self.to("spec", raw["spec"])
        return done

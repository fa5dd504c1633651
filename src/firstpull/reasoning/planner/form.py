"""Reads the small values of a JSON document and gathers what is wrong with them."""

from __future__ import annotations

import math
from typing import Any

from firstpull.base.errors import FirstpullError, InputError


class Form:
    """One document under reading: values come out usable, complaints pile up in `errors`."""

    def __init__(self) -> None:
        self.errors: list[FirstpullError] = []
        self.bits: dict[str, int] = {}

    def wrong(self, what: str, where: str, right: str) -> None:
        """Note one complaint."""
        self.errors.append(InputError(what, where=where, right=right))

    def number(self, box: dict[str, Any], key: str, where: str, default: float | None = None) -> float:
        """A price or amount under a key."""
        value = box.get(key, default)
        return self.amount(value, f"{where}.{key}", "a number, 0 or more")

    def amount(self, value: object, where: str, right: str, most: float = math.inf) -> float:
        """A number from zero to `most`."""
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            try:
                found = float(value)
            except OverflowError:
                found = math.inf
            if 0.0 <= found <= most and math.isfinite(found):
                return found
        self.wrong(f"found {short(value)}", where, right)
        return 0.0

    def text(self, box: dict[str, Any], key: str, where: str) -> str:
        """A word under a key."""
        value = box.get(key)
        if not isinstance(value, str) or not value:
            self.wrong(f"found {short(value)}", f"{where}.{key}", "a word")
            return f"?{where}"
        return value

    def rows(self, data: dict[str, Any], key: str) -> list[dict[str, Any]]:
        """A list of objects under a key; no list means none."""
        value = data.get(key, [])
        if not isinstance(value, list):
            self.wrong(f"found {short(value)}", key, "a list of objects")
            return []
        for i, row in enumerate(value):
            if not isinstance(row, dict):
                self.wrong(f"found {short(row)}", f"{key}[{i}]", "an object")
        return [row for row in value if isinstance(row, dict)]

    def words(self, box: dict[str, Any], key: str, where: str) -> list[str]:
        """A list of words under a key."""
        value = box.get(key, [])
        if not isinstance(value, list) or not all(isinstance(word, str) for word in value):
            self.wrong(f"found {short(value)}", f"{where}.{key}", "a list of words")
            return []
        return value

    def items(self, box: dict[str, Any], key: str, where: str) -> int:
        """The bits of the access items listed under a key."""
        found = 0
        for word in self.words(box, key, where):
            if word not in self.bits:
                self.wrong(f"no access item {word!r}", f"{where}.{key}", f"one of {short(sorted(self.bits))}")
            found |= self.bits.get(word, 0)
        return found

    def needs(self, box: dict[str, Any], where: str) -> tuple[int, int]:
        """The bits needed open and those needed closed."""
        opened, closed = (self.items(box, "need_open", where), self.items(box, "need_closed", where))
        if opened & closed:
            self.wrong("an item is needed open and closed at once", where, "one of the two")
        return opened, closed

    def part(self, data: dict[str, Any], key: str) -> dict[str, Any]:
        """An object under a key that must be there."""
        value = data.get(key)
        if not isinstance(value, dict):
            self.wrong(f"found {short(value)}", key, "an object with a cost")
            return {"cost": 0}
        return value

    def unlike(self, ids: list[str], where: str) -> None:
        """Complain when an id is used twice."""
        twice = sorted({name for name in ids if ids.count(name) > 1 and not name.startswith("?")})
        if twice:
            self.wrong(f"used more than once: {short(twice)}", where, "each id once")


def short(value: object) -> str:
    """How a value reads in a message.

    Args:
        value: anything [1], scalar.

    Returns:
        Its text, cut to eighty signs [1], scalar.

    Raises:
        Nothing.

    Valid:
        anything.

    Source:
        judgement.
    """
    text = repr(value)
    return text if len(text) <= 80 else text[:77] + "..."

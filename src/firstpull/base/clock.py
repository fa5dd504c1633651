"""The one place where the time of day enters."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

Clock = Callable[[], datetime]


def now() -> datetime:
    """The present moment in UTC."""
    return datetime.now(UTC)


def stamp(moment: datetime) -> str:
    """A moment as sortable UTC text, to the millisecond."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def moment(text: str) -> datetime:
    """The moment that `stamp` wrote down.

    Raises:
        ValueError: when the text is not such a moment.

    """
    return datetime.fromisoformat(text)

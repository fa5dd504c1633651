"""What was read on a job, in sentences."""

from __future__ import annotations

from firstpull.bench.pages.find import reading_words
from firstpull.bench.paperwork.file import JobFile
from firstpull.workshop.events import Event


def readings(file: JobFile) -> tuple[str, ...]:
    """Everything that was read and counts, in the order it was read, with how the machine stood then."""
    return tuple(_sentence(file, event) for event in file.record.readings)


def _sentence(file: JobFile, event: Event) -> str:
    book, check = file.book, str(event.body.get("check"))
    name = book.checks[check].name if check in book.checks else book.name("complaint", check)
    times = event.body.get("times")
    often = f" ({times} times)" if isinstance(times, int) and times > 1 else ""
    return f"{name}: {reading_words(book, event)}{often}{stood(file, event)}"


def stood(file: JobFile, event: Event) -> str:
    """How the machine stood, as far as it was unlike a whole one."""
    place = event.body.get("arrangement")
    if not isinstance(place, dict):
        return ""
    off = [f"{word.replace('-', ' ')} off" for word in place.get("off") or []]
    added = [word.replace("-", " ") for word in place.get("added") or []]
    drive = [f"by {place['drive']}"] if place.get("drive") not in (None, "", "none", "running") else []
    words = [str(x) for x in (*drive, *off, *added)]
    return f"; {', '.join(words)}" if words else ""

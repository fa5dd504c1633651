"""One line a job for lists and queues, and the words by which it is found."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from firstpull.workshop.fold import JobRecord

_WORD = re.compile(r"[^\W_]+", re.UNICODE)
LONGEST_WORD = 40


@dataclass(frozen=True, slots=True)
class JobLine:
    """What a list shows of a job without folding it again."""

    job: str
    last_seq: int
    stage: str
    closed: bool
    opened_at: str
    changed_at: str
    number: str = ""
    person: str = ""
    machine: str = ""
    machine_class: str = ""
    complaint: tuple[str, ...] = ()
    waiting_until: str = ""
    promised: str = ""
    place: str = ""
    comeback_of: str = ""
    minutes: float = 0.0

    def as_dict(self) -> dict[str, Any]:
        """Plain values for storage and pages."""
        return {**asdict(self), "complaint": list(self.complaint)}

    @classmethod
    def of_dict(cls, raw: Mapping[str, Any]) -> JobLine:
        """The line that `as_dict` wrote; fields of another version are left out."""
        known = {name: raw[name] for name in cls.__dataclass_fields__ if name in raw}
        return cls(**{**known, "complaint": tuple(known.get("complaint", ()))})


def line_of(record: JobRecord) -> JobLine:
    """The line of a folded job."""
    return JobLine(
        record.job, record.last_seq, record.stage, record.closed, record.opened_at, record.changed_at,
        str(record.number), str(record.person), str(record.machine), str(record.machine_class),
        record.complaint, record.waiting_until, str(record.promised), str(record.place),
        str(record.comeback_of), round(record.minutes, 1),
    )  # fmt: skip


def words_in(*texts: Any) -> frozenset[str]:
    """The words of texts, lists and mappings, as the search compares them: lower case, without accents."""
    found: set[str] = set()
    for text in texts:
        if isinstance(text, Mapping):
            found |= words_in(*text.values())
        elif isinstance(text, str):
            plain = unicodedata.normalize("NFKD", text.casefold())
            plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
            found.update(word[:LONGEST_WORD] for word in _WORD.findall(plain))
        elif isinstance(text, Iterable):
            found |= words_in(*text)
        elif text is not None and not isinstance(text, bool):
            found.add(str(text))
    return frozenset(word for word in found if word[0] < "\ud800" or word[0] > "\udfff")


def facts_words(record: JobRecord) -> frozenset[str]:
    """Words by which a job is found that name nobody."""
    return words_in(
        record.job, record.number, record.machine_class, record.complaint, record.told, record.place,
        [[event.body.get("part"), event.body.get("number")] for event in record.parts],
    )  # fmt: skip


def private_words(record: JobRecord) -> frozenset[str]:
    """Words by which a job is found and that an erasure must take away."""
    return words_in(
        record.words,
        [event.body.get("text") for event in record.notes],
        [event.body.get("caption") for event in record.photos],
        [event.body.get("words") for event in record.told_events],
    )

"""A job as paper needs it: its record, the shop's words, and who owns the machine."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from firstpull import paper
from firstpull.base.clock import moment
from firstpull.bench.ourselves import Ourselves, ourselves
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.handbook.book import Book
from firstpull.workshop.fold import JobRecord


@dataclass(frozen=True, eq=False)
class JobFile:
    """Everything that a sheet of one job may draw on; `session` is None while the kind of machine is not known."""

    shop: Shop
    record: JobRecord
    own: Ourselves
    owner: Mapping[str, Any]
    session: Session | None

    @property
    def book(self) -> Book:
        """The handbook."""
        return self.shop.room.book

    @property
    def owner_name(self) -> str | None:
        """The owner's name; None when it was never said, or was erased."""
        return str(self.owner.get("name") or "") or None

    @property
    def addressed(self) -> tuple[str, ...]:
        """The owner as a letter is addressed: name, address, number, as far as they are known."""
        return tuple(str(self.owner[k]) for k in ("name", "address", "contact") if self.owner.get(k))

    @property
    def kind(self) -> str:
        """What the machine is."""
        known = self.record.machine_class
        return self.book.name("machine", known) if known else "Machine, kind not recorded"

    @property
    def complaint(self) -> str | None:
        """The complaint in the customer's words, or by its name where the words were erased."""
        named = ", ".join(self.book.name("complaint", c) for c in self.record.complaint)
        return " / ".join(self.record.words) or named or None

    @property
    def bench_hand(self) -> str | None:
        """Who acted last on it."""
        hands = [e.by for e in self.record.events if e.by not in ("firstpull", "restore")]
        return hands[-1] if hands else None

    def said(self, key: str) -> Any:
        """What was said of a thing at the counter, the last word of it; None when nothing was."""
        events = [e for e in self.record.events if e.kind == "opened" and e.act_id not in self.record.withdrawn]
        found = [e.body[key] for e in events if e.body.get(key) not in (None, "", [], {})]
        return found[-1] if found else None

    def day(self, text: str) -> str | None:
        """A recorded day in writing."""
        return self.own.day(text)

    def when(self, text: str) -> str | None:
        """A recorded moment in writing: the day, and the hour where this machine stands."""
        try:
            hour = moment(text).astimezone().strftime("%H:%M")
        except ValueError:
            return text or None
        return f"{self.own.day(text)}, {hour}"

    def today(self) -> str:
        """The day where this machine stands."""
        return self.shop.clock().astimezone().date().isoformat()

    def head(self, day: str = "") -> paper.Head:
        """The title strip and block of a sheet; `day` is the day that the sheet speaks of."""
        own = self.own
        return paper.Head(
            shop=paper.Shop(own.name, own.words.lines), job=self.record.number or self.record.job, machine=self.kind,
            complaint=self.complaint, owner=self.owner_name, date=own.short_day(day or self.today()),
            at_bench=self.bench_hand, lang=own.words.locale.replace("_", "-").split("-")[0],
        )

    def names(self, kind: str, ids: Any) -> tuple[str, ...]:
        """Entries of the handbook by name; an id that it no longer holds is shown as it is."""
        return tuple(self.book.name(kind, str(one)) for one in ids or ())

    def signers(self, theirs: str, name: str | None = None) -> tuple[paper.Signer, ...]:
        """A line for the bench and one for the owner."""
        return (paper.Signer("For the bench", self.bench_hand), paper.Signer(theirs, name or self.owner_name))

    @property
    def drained(self) -> bool:
        """Whether the record has the tank drained."""
        state = self.session.state if self.session else None
        return state is not None and any("fuel" in state.items[i].tokens for i in state.away)


def job_file(shop: Shop, job: str) -> JobFile:
    """A job with everything that its papers may draw on.

    Raises:
        InputError: there is no such job.
    """
    record = shop.record(job)
    live = shop.live(record)
    owner = (shop.store.get_person(record.person) or {}) if record.person else {}
    return JobFile(shop, record, ourselves(shop), owner, live.session if live else None)

"""What the hands can do meanwhile: what waits on its own, what takes five minutes, one step over several machines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from firstpull.base.errors import InputError
from firstpull.bench.pages.head import Choice, fresh_act
from firstpull.bench.pages.rack import Tag, rack_page
from firstpull.bench.rounds import LEAST_WAITING, Offered, offered_rounds, plan
from firstpull.bench.shop import Shop
from firstpull.workshop.rounds import Round

SHORT_MINUTES = 5  # judgement: what fits between two knocks at the counter


@dataclass(frozen=True, slots=True)
class Meanwhile:
    """One machine and what is next on it."""

    job: str
    number: str
    machine: str
    step: str
    minutes: int


@dataclass(frozen=True, slots=True)
class Stretch:
    """One stretch of hands on one machine of a round."""

    job: str
    number: str
    act: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Planned:
    """A round as it would go: the order of work, what it takes, and what is seen of each machine now."""

    kind: str
    step: str
    name: str
    stretches: tuple[Stretch, ...]
    minutes: int
    free: int
    saved: int
    seen: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class RoundsPage:
    """What can be done while something waits."""

    act_id: str
    offered: tuple[Offered, ...]
    short: tuple[Meanwhile, ...]
    waiting: tuple[Meanwhile, ...]
    steps: tuple[Choice, ...]
    jobs: tuple[Choice, ...]
    planned: Planned | None


def rounds_page(shop: Shop, step: str = "", jobs: Sequence[str] = ()) -> RoundsPage:
    """What can be done meanwhile, and a round that was asked for.

    Raises:
        FirstpullError: a round was asked for that cannot be planned.
    """
    tags = [tag for tag in rack_page(shop).tags if not tag.head.closed and tag.head.stage != "ready"]
    soaking = _leaving_hands_free(shop)
    known = {name for name in soaking.values() if name}
    here = [_meanwhile(tag) for tag in tags]
    return RoundsPage(
        fresh_act(), offered_rounds(shop),
        tuple(sorted((m for m in here if 0 < m.minutes <= SHORT_MINUTES), key=lambda m: (m.minutes, m.job))),
        tuple(m for m in here if m.step in known),
        tuple(Choice(key, name) for key, name in sorted(soaking.items(), key=lambda pair: pair[1].casefold())),
        tuple(Choice(tag.head.job, f"{tag.head.number}, {tag.head.machine}") for tag in tags),
        planned(shop, step, jobs) if step else None,
    )


def _leaving_hands_free(shop: Shop) -> dict[str, str]:
    """Every repair that waits on its own for a while, by kind and id, with its name."""
    found = shop.room.book.repairs.values()
    return {f"repair:{r.id}": r.name for r in found if r.waiting >= LEAST_WAITING}


def _meanwhile(tag: Tag) -> Meanwhile:
    minutes = int(tag.minutes) if tag.minutes.isdigit() else 0
    return Meanwhile(tag.head.job, tag.head.number, tag.head.machine, tag.next, minutes)


def planned(shop: Shop, step: str, jobs: Sequence[str]) -> Planned:
    """In which order a step over several machines would go.

    Raises:
        FirstpullError: the step or a job is not known, or fewer than two machines were named.
    """
    kind, _, name = step.partition(":")
    if kind not in ("check", "repair") or name not in shop.room.book.shelf(kind):
        raise InputError("no such step", "round", "one of those on the page")
    if len(set(jobs)) < 2:
        raise InputError("a round is over several machines", "machines", "tick two or more")
    found = plan(shop, jobs, kind, name)
    numbers = {job: shop.record(job) for job in dict.fromkeys(jobs)}
    return Planned(
        kind, name, shop.room.book.name(kind, name),
        tuple(Stretch(s.job, numbers[s.job].number or s.job, s.act, round(s.start), round(s.end)) for s in found.slots),
        round(found.minutes), round(_longest_gap(found)), round(found.saved),
        tuple(Choice(job, str(record.last_seq)) for job, record in numbers.items()),
    )


def _longest_gap(found: Round) -> float:
    """The longest stretch within a round in which the hands are free."""
    ends, gap = 0.0, 0.0
    for slot in sorted(found.slots, key=lambda s: s.start):
        gap, ends = max(gap, slot.start - ends), max(ends, slot.end)
    return max(gap, found.minutes - ends)

"""The rack: every job as a tag on the rail."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.bench.nearby import OpenFuel, fuel_open
from firstpull.bench.pages.head import JobHead, clock_time, head, today
from firstpull.bench.shop import Shop
from firstpull.bench.thinking.short import last_short, said_in_short
from firstpull.workshop.fold import JobRecord


@dataclass(frozen=True, slots=True)
class Tag:
    """A job on the rack: its head, what comes next, how long it takes, what it was promised for."""

    head: JobHead
    next: str
    minutes: str
    left: str
    promised: str
    overdue: bool
    room: str


@dataclass(frozen=True, slots=True)
class RackPage:
    """The jobs on the rack and the day they hang there."""

    tags: tuple[Tag, ...]
    day: str
    held: int
    minutes_left: int
    fuel: tuple[str, ...]


def rack_page(shop: Shop, search: str = "") -> RackPage:
    """The jobs on the rack: those that cannot be stopped first, then by promised day, then as they came."""
    lines = shop.store.search(search) if search.strip() else shop.store.jobs(open_only=True)
    now = shop.clock().astimezone()
    fuel = fuel_open(shop)
    found = [_tag(shop, shop.record(line.job), line.promised, now.strftime("%Y-%m-%d"), fuel) for line in lines]
    tags = tuple(tag for tag, _ in sorted(found, key=lambda pair: _place_on_the_rack(pair[0])))
    held = sum(t.head.unstoppable for t in tags)
    return RackPage(tags, today(now), held, round(sum(m for _, m in found)), tuple(one.words for one in fuel))


def _place_on_the_rack(tag: Tag) -> tuple[bool, str, int]:
    return (not tag.head.unstoppable, tag.promised or "9999", int(tag.head.number) if tag.head.number.isdigit() else 0)


def _tag(
    shop: Shop, record: JobRecord, promised: str, day: str, fuel: tuple[OpenFuel, ...]
) -> tuple[Tag, float]:
    top = head(shop, record)
    step, minutes, left, rest = _next(shop, record)
    return Tag(top, step, minutes, left, promised, bool(promised) and promised < day, _room(shop, record, fuel)), rest


def _next(shop: Shop, record: JobRecord) -> tuple[str, str, str, float]:
    """What comes next on a job: the step, its minutes, minutes left in words and as a number."""
    if record.closed:
        return "Gone", "", "", 0.0
    if record.release is not None:
        return "Ring the owner", "3", "ready", 3.0
    if not record.machine_class:
        return "Say which kind it is", "1", "not known yet", 1.0
    short = last_short(shop, record)
    if short is None or not short.counts_all:
        shop.think(record, eager=False)
    if short is None:
        return "Open it and see", "", "not reckoned yet", 0.0
    if not short.counts_all:
        return short.name, str(short.minutes or ""), f"said {clock_time(short.at)}, before the last act", 0.0
    return short.name, str(short.minutes or ""), f"{short.left} min left", float(short.left)


def _room(shop: Shop, record: JobRecord, fuel: tuple[OpenFuel, ...]) -> str:
    """What stands open on a machine, or beside which others its next step must not be done; nothing when neither."""
    own = next((one for one in fuel if one.job == record.job), None)
    if own is not None:
        return f"Fuel open: {', '.join(own.what).lower()}"
    short = said_in_short(shop, record) if fuel and record.release is None and not record.closed else None
    if short is None or not short.lights:
        return ""
    return f"Not beside {' and '.join(one.number for one in fuel)}: fuel is open there"

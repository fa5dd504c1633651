"""The letter about a machine that nobody fetches, by the rule that the shop wrote down for its place."""

from __future__ import annotations

from datetime import date, timedelta

from firstpull import paper
from firstpull.base.clock import moment
from firstpull.base.errors import RefusedError
from firstpull.bench.billing import bill_of
from firstpull.bench.paperwork.file import JobFile
from firstpull.bench.shop import Shop
from firstpull.workshop.abandoned import NoticeRule, Unfetched, unfetched
from firstpull.workshop.fold import JobRecord

RULE_KEY = "abandoned"


def rule_of(shop: Shop) -> NoticeRule | None:
    """The rule of this place as the shop wrote it down; None until it did: no law is built in.

    Raises:
        InputError: it lacks a number or a way of giving notice.
    """
    held = shop.store.get_setting(RULE_KEY)
    return NoticeRule.of(held) if held else None


def where_it_stands(shop: Shop, record: JobRecord) -> Unfetched:
    """The step of the rule that a machine stands at today.

    Raises:
        InputError: the rule cannot be read.
    """
    return unfetched(record, rule_of(shop), shop.clock().astimezone().date())


def abandoned(file: JobFile) -> paper.AbandonedNotice:
    """The letter, with the days counted and the calls that went before.

    Raises:
        RefusedError: no rule was written down, or by it no letter may go out yet.
    """
    record, own = file.record, file.own
    rule = rule_of(file.shop)
    where = f"job {record.job}"
    if rule is None:
        raise RefusedError("no rule was written down for this place", where, f"write the setting '{RULE_KEY}' first")
    stands = where_it_stands(file.shop, record)
    if stands.step in ("not-ready", "wait", "disposed"):
        until = f"; from {own.day(stands.until)}" if stands.until else ""
        raise RefusedError(f"no letter may go out: {stands.step.replace('-', ' ')}{until}", where, "wait for its day")
    ready = _ready(record)
    owed = bill_of(file.shop, record).open
    total = owed if stands.storage is None else owed + stands.storage
    lines = [paper.PriceLine("The work, as agreed", own.money(owed))]
    if stands.storage is not None:
        lines.append(paper.PriceLine("Keeping it", own.money(stands.storage)))
    last = _notice_day(record) or file.shop.clock().astimezone().date()
    return paper.AbandonedNotice(
        head=file.head(),
        to=file.addressed,
        says=f"Your machine has been ready since {own.day(ready)} and was not collected. Please come for it.",
        rule=rule.source or None,
        contacted=_contacted(file),
        lines=tuple(lines),
        totals=(paper.Total("Owed today", own.money(total), True),),
        by=own.day((last + timedelta(days=rule.notice_days)).isoformat()),
        then=_then(record, rule),
        collect=own.words.lines,
        posting=(paper.Fact("Posted on"), paper.Fact(f"How ({' or '.join(rule.how)})"), paper.Fact("Proof of posting")),
        signers=(paper.Signer("For the bench", file.bench_hand),),
    )


def _ready(record: JobRecord) -> str:
    told = next((e for e in record.abandoned if e.body.get("step") == "ready"), None) or record.release
    return told.when if told is not None else record.changed_at


def _notice_day(record: JobRecord) -> date | None:
    notice = next((e for e in record.abandoned if e.body.get("step") == "notice"), None)
    try:
        return moment(notice.when).date() if notice is not None else None
    except ValueError:
        return None


def _contacted(file: JobFile) -> tuple[paper.Contacted, ...]:
    """Calls and letters as they were written down."""
    return tuple(
        paper.Contacted(
            file.when(e.when) or "", str(e.body.get("how") or e.body.get("step") or ""),
            str(e.body.get("words") or "") or None,
        )
        for e in file.record.abandoned
    )


def _then(record: JobRecord, rule: NoticeRule) -> tuple[str, ...]:
    """What follows by the rule; a machine that was not shown to be safe is never sold as working."""
    working = record.release is not None and record.release.body.get("way") == "working"
    said = ["The machine may be disposed of by this rule." if working else
            "The machine may be disposed of by this rule, not as a working one."]
    if rule.surplus_held:
        said.append("What is left over the sum owed is held for you.")
    return tuple(said)

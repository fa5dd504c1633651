"""What it will cost: an estimate from the belief, a card for the telephone, and an event that keeps what was said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal
from typing import Any

from firstpull.base.clock import moment, stamp
from firstpull.base.errors import FirstpullError
from firstpull.base.money import Money
from firstpull.bench.billing import agreed_on
from firstpull.bench.find import session_of
from firstpull.bench.mending import suspects
from firstpull.bench.ourselves import Ourselves, ourselves, prices
from firstpull.bench.shop import Done, Shop
from firstpull.bench.thinking.said import suspected
from firstpull.workshop.estimate import PROVED, Estimate, EstimateInput, PhoneCard
from firstpull.workshop.estimate import estimate as reckon
from firstpull.workshop.estimate import phone_card as reckon_card
from firstpull.workshop.events import Event
from firstpull.workshop.fold import JobRecord, money_of
from firstpull.workshop.pricing import Line, Span
from firstpull.workshop.saying import say_odds


@dataclass(frozen=True, slots=True)
class ShownLine:
    """One line of money in writing; `usual` is None when nothing was kept of it."""

    kind: str
    name: str
    low: str | None
    usual: str | None
    high: str | None
    quantity: int
    condition: str


@dataclass(frozen=True, slots=True)
class ShownSuspect:
    """One thing it may be, with its odds in words and its own lines and sum."""

    name: str
    odds: str
    low: str | None
    usual: str | None
    high: str | None
    lines: tuple[ShownLine, ...]


@dataclass(frozen=True, slots=True)
class ShownEstimate:
    """An estimate as it is said or printed: every sum and day already in writing.

    `warning` is empty unless the customer's limit is below the high end. `act` names the kept event, empty when it
    was not kept.
    """

    act: str
    standing: str
    likely: tuple[ShownSuspect, ...]
    left_over: str
    low: str | None
    usual: str | None
    high: str | None
    find_fee: str | None
    returned: str | None
    with_service: str | None
    worth: str
    warning: str
    valid_until: str | None
    sentence: str
    tax: str


@dataclass(frozen=True, slots=True)
class ShownCard:
    """One look while the customer is on the telephone: every sum in writing, and the sentence to say."""

    find_fee: str | None
    stop_minutes: int
    standing: str
    low: str | None
    usual: str | None
    high: str | None
    earliest: str | None
    sentence: str
    asks: tuple[str, ...]
    warning: str


def estimate_input(shop: Shop, job: str, *, worth: Money | None = None, earliest: str = "") -> EstimateInput:
    """Everything that an estimate of this job rests on.

    `worth` is what the machine is worth to its owner; unless said it is what the handbook holds for its class. It
    counts as proved when one mend holds nearly all of the odds.

    Raises:
        FirstpullError: there is no such job, its class is not known, or a setting cannot be read.
    """
    record = shop.record(job)
    session = session_of(shop, record)
    own = ourselves(shop)
    found = suspects(session, own.currency, suspected(shop, record, session))
    usual_worth = Money.of(Decimal(repr(session.book.machine.worth[1])), own.currency)
    now = agreed_on(record)
    return EstimateInput(
        suspects=found,
        prices=prices(shop),
        proved=bool(found) and found[0].probability >= PROVED,
        worth=usual_worth if worth is None else worth,
        limit=now.limit if now.to_mend else record.spending_limit,
        earliest=earliest or record.promised,
        locale=own.words.locale,
    )


def look_estimate(shop: Shop, job: str) -> ShownEstimate:
    """The estimate as things stand, without keeping it. For a page that shows it before it is said.

    Raises:
        FirstpullError: as `estimate_input`.
    """
    return shown(ourselves(shop), _body(shop, job, ""), "")


def make_estimate(
    shop: Shop, job: str, *, act_id: str, based_on: int, by: str, how: str = ""
) -> tuple[Done, ShownEstimate]:
    """Make the estimate and keep it as it was said; `how` says by what way (telephone, counter, paper).

    Sent twice it is kept once, and what was kept first is what is shown.

    Raises:
        FirstpullError: as `estimate_input`; nothing is kept then.
    """
    if not shop.store.find_act(act_id):
        body = _body(shop, job, how)
        done = shop.do(job, "estimate", body, act_id=act_id, based_on=based_on, by=by)
    else:
        done = Done(shop.record(job))
    kept = next((e for e in done.record.estimates if e.act_id == act_id), None)
    return done, shown(ourselves(shop), kept.body if kept else {}, act_id)


def kept_estimate(shop: Shop, record: JobRecord) -> ShownEstimate | None:
    """The last estimate that was kept, as it was said then; None when there is none."""
    last: Event | None = record.estimates[-1] if record.estimates else None
    return None if last is None else shown(ourselves(shop), last.body, last.act_id)


def phone_card(shop: Shop, job: str, earliest: str = "") -> ShownCard:
    """The card for the telephone. Nothing is kept: what was said is kept by `make_estimate(how="telephone")`, and who
    agreed by `approving.approve`.

    Raises:
        FirstpullError: as `estimate_input`.
    """
    own = ourselves(shop)
    asked = estimate_input(shop, job, earliest=earliest)
    card: PhoneCard = reckon_card(asked)
    return ShownCard(
        own.money(card.find_fee), card.stop_minutes, card.standing, own.money(card.low), own.money(card.usual),
        own.money(card.high), own.day(card.earliest), card.sentence, card.asks,
        _warning(own, asked.limit, card.high),
    )


def _body(shop: Shop, job: str, how: str) -> dict[str, Any]:
    """The estimate as it is kept: sums as text, so that the same paper can be printed for ever."""
    asked = estimate_input(shop, job)
    found: Estimate = reckon(asked)
    until = moment(stamp(shop.clock())) + timedelta(days=found.valid_days)
    options = {one.kind: _money(one.due.usual) for one in found.options}
    return {
        "standing": found.standing, "how": how, "left_over": round(found.left_over, 6),
        "low": _money(found.due.low), "usual": _money(found.due.usual), "high": _money(found.due.high),
        "find_fee": _money(found.find_fee), "options": options, "valid_until": until.date().isoformat(),
        "limit": None if asked.limit is None else _money(asked.limit), "above_limit": found.above_limit,
        "worth": {
            "verdict": found.worth.verdict,
            "sum": None if found.worth.worth is None else _money(found.worth.worth),
        },
        "likely": [
            {"name": one.name, "odds": one.odds, "probability": round(one.probability, 6), **_span(one.due),
             "lines": [_line(line) for line in one.lines]}
            for one in found.likely
        ],
        "sentence": reckon_card(asked).sentence,
        "tax": str(asked.prices.tax), "tax_included": asked.prices.tax_included,
    }  # fmt: skip


def _money(money: Money) -> dict[str, str]:
    return {"amount": str(money.amount), "currency": money.currency}


def _span(span: Span) -> dict[str, Any]:
    return {"low": _money(span.low), "usual": _money(span.usual), "high": _money(span.high)}


def _line(line: Line) -> dict[str, Any]:
    return {"kind": line.kind, "name": line.name, "quantity": line.quantity, "condition": line.condition,
            **_span(line.amount)}


def shown(own: Ourselves, body: Mapping[str, Any], act: str) -> ShownEstimate:
    """A kept estimate in writing. What is missing from an older or damaged one is None, never made up."""

    def money(raw: Any) -> str | None:
        return own.money(money_of(raw))

    options = body.get("options") or {}
    worth = body.get("worth") or {}
    left_over = float(body.get("left_over") or 0.0)
    high = money_of(body.get("high"))
    return ShownEstimate(
        act=act,
        standing=str(body.get("standing") or ""),
        likely=tuple(_suspect(money, one) for one in body.get("likely") or []),
        left_over=say_odds(left_over) if left_over >= 0.015 else "",
        low=money(body.get("low")), usual=money(body.get("usual")), high=own.money(high),
        find_fee=money(body.get("find_fee")),
        returned=money(options.get("return")), with_service=money(options.get("mend-and-service")),
        worth=_worth(own, worth),
        warning=_warning(own, money_of(body.get("limit")), high),
        valid_until=own.day(str(body.get("valid_until") or "")),
        sentence=str(body.get("sentence") or ""),
        tax=_tax(str(body.get("tax") or "0"), bool(body.get("tax_included"))),
    )  # fmt: skip


def _suspect(money: Any, raw: Mapping[str, Any]) -> ShownSuspect:
    lines = tuple(
        ShownLine(
            str(x.get("kind") or ""), str(x.get("name") or ""), money(x.get("low")), money(x.get("usual")),
            money(x.get("high")), int(x.get("quantity") or 1), str(x.get("condition") or ""),
        )
        for x in raw.get("lines") or []
    )
    return ShownSuspect(
        str(raw.get("name") or ""), str(raw.get("odds") or ""), money(raw.get("low")), money(raw.get("usual")),
        money(raw.get("high")), lines,
    )


def _worth(own: Ourselves, worth: Mapping[str, Any]) -> str:
    """What a like machine is worth, and what follows from it."""
    total = own.money(money_of(worth.get("sum")))
    if total is None:
        return ""
    said = {
        "mend": "worth mending", "ask": "ask the owner whether it is worth mending",
        "retire": "not worth mending at this price",
    }  # fmt: skip
    follows = said.get(str(worth.get("verdict")), "")
    return f"about {total} for a like machine{': ' + follows if follows else ''}"


def _warning(own: Ourselves, limit: Money | None, high: Money | None) -> str:
    if limit is None or high is None:
        return ""
    try:
        above = limit < high
    except FirstpullError:  # the limit was said in another currency than the shop's of today
        return f"The limit is {own.money(limit)}: another currency than this estimate."
    if not above:
        return ""
    return f"This may come to {own.money(high)}. The limit is {own.money(limit)}: ask before going above it."


def _tax(share: str, included: bool) -> str:
    """The tax in words; empty when the shop has none."""
    hundred = (Decimal(share) * 100).normalize()
    if hundred == 0:
        return ""
    return f"{'with' if included else 'and'} {hundred:f} in 100 tax{' in it' if included else ''}"

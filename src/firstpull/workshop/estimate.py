"""What it will cost, before it is known what is wrong: a pure function of a frozen input.

The bench converts the belief into suspects with minutes and prices; here nothing is known of engines. The
outer range comes from the suspects that together hold most of the odds; what is left over is said, never
priced in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from firstpull.base.errors import InputError
from firstpull.base.money import Money
from firstpull.workshop.pricing import (
    Line,
    Minutes,
    PartPrice,
    Prices,
    Service,
    Span,
    Total,
    total_of,
    with_minimum,
)
from firstpull.workshop.saying import say_day, say_money, say_odds
from firstpull.workshop.worth import Worth, against_worth

COVERED = 0.9  # judgement: suspects are priced until nine in ten of the odds are covered
PROVED = 0.98  # judgement: with a proof recorded the bench says so itself; this is only the wording


@dataclass(frozen=True, slots=True)
class Suspect:
    """One thing it may be: its odds and what mending it takes."""

    name: str
    probability: float
    minutes: Minutes
    parts: tuple[PartPrice, ...] = ()
    services: tuple[Service, ...] = ()
    wait_days: int = 0

    def __post_init__(self) -> None:
        """Refuse odds that are none.

        Raises:
            InputError: when the probability is not between 0 and 1.
        """
        if not 0.0 <= self.probability <= 1.0:
            raise InputError(f"{self.probability}", f"probability of {self.name}", "0 to 1")


@dataclass(frozen=True)
class EstimateInput:
    """Everything an estimate rests on; the same input gives the same estimate for ever."""

    suspects: tuple[Suspect, ...]
    prices: Prices
    proved: bool = False
    worth: Money | None = None
    limit: Money | None = None
    earliest: str = ""
    locale: str = "en"


@dataclass(frozen=True, slots=True)
class Likely:
    """One suspect as the customer hears of it."""

    name: str
    odds: str
    probability: float
    due: Span
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Option:
    """One way to go on, with everything that is to be paid for it."""

    kind: Literal["mend", "mend-and-service", "return"]
    due: Span


@dataclass(frozen=True, slots=True)
class Estimate:
    """The range over the likely suspects, each one's own lines, how sure it is, and the ways to go on."""

    standing: Literal["proved", "likely, not proved", "not known yet"]
    likely: tuple[Likely, ...]
    left_over: float
    due: Span
    find_fee: Money
    worth: Worth
    above_limit: bool
    options: tuple[Option, ...]
    valid_days: int


@dataclass(frozen=True, slots=True)
class PhoneCard:
    """One look while the customer is on the telephone."""

    find_fee: Money
    stop_minutes: int
    standing: str
    low: Money
    usual: Money
    high: Money
    earliest: str
    wait_days: int
    sentence: str
    asks: tuple[str, ...]


def lines_for(suspect: Suspect, asked: EstimateInput) -> tuple[Line, ...]:
    """The itemised lines if it is this.

    Finding, labour, parts, services, the fee credited, the minimum charge.
    """
    prices = asked.prices
    fee = prices.find_fee
    lines = [Line("find", "finding the fault", Span.flat(fee))]
    if suspect.minutes.high > 0:
        lines.append(Line("labour", f"mending: {suspect.name}", prices.labour_span(suspect.minutes)))
    lines += [
        Line("part", part.name, part.price.times(part.quantity), part.quantity, part.condition)
        for part in suspect.parts
    ]
    lines += [Line("service", one.name, Span.flat(one.price)) for one in suspect.services]
    mended = suspect.minutes.high > 0 or suspect.parts or suspect.services
    if prices.fee_credited and mended:  # where there is nothing to mend, finding is all that is paid
        lines.append(Line("credit", "finding, credited when mended here", Span.flat(fee * -1)))
    return with_minimum(tuple(lines), prices)


def total_for(suspect: Suspect, asked: EstimateInput) -> Total:
    """What is to be paid if it is this."""
    return total_of(lines_for(suspect, asked), asked.prices)


def likely_suspects(suspects: Sequence[Suspect], covered: float = COVERED) -> tuple[tuple[Suspect, ...], float]:
    """The best suspects that together hold `covered` of the odds, and the odds left over."""
    chosen: list[Suspect] = []
    held = 0.0
    for suspect in sorted(suspects, key=lambda one: (-one.probability, one.name)):
        if held >= covered or suspect.probability <= 0.0:
            break
        chosen.append(suspect)
        held += suspect.probability
    return tuple(chosen), max(0.0, 1.0 - held)


def estimate(asked: EstimateInput) -> Estimate:
    """The estimate; with nothing to suspect it is the fee to find it and nothing else."""
    fee = asked.prices.with_tax(asked.prices.find_fee)
    chosen, left_over = likely_suspects(asked.suspects)
    likely = tuple(
        Likely(
            one.name,
            say_odds(one.probability),
            one.probability,
            total_for(one, asked).due,
            lines_for(one, asked),
        )
        for one in chosen
    )
    if not likely:
        due = Span.flat(fee)
        ways = (Option("return", _returned(asked.prices)),)
        worth = against_worth(due, asked.worth)
        return Estimate("not known yet", (), 1.0, due, fee, worth, False, ways, asked.prices.valid_days)
    due = Span(
        min((one.due.low for one in likely), key=lambda money: money.amount),
        _weighted(likely),
        max((one.due.high for one in likely), key=lambda money: money.amount),
    )
    return Estimate(
        "proved" if asked.proved else "likely, not proved",
        likely,
        left_over,
        due,
        fee,
        against_worth(due, asked.worth),
        asked.limit is not None and asked.limit < due.high,
        _options(due, asked.prices),
        asked.prices.valid_days,
    )


def _options(due: Span, prices: Prices) -> tuple[Option, ...]:
    ways = [Option("mend", due)]
    if prices.seasonal is not None:
        ways.append(Option("mend-and-service", due + Span.flat(prices.with_tax(prices.seasonal.price))))
    return (*ways, Option("return", _returned(prices)))


def _returned(prices: Prices) -> Span:
    """What is to be paid when it goes back as it is: finding, and putting it together again where that costs."""
    fee = prices.find_fee if prices.reassembly_fee is None else prices.find_fee + prices.reassembly_fee
    return Span.flat(prices.with_tax(fee))


def _weighted(likely: Sequence[Likely]) -> Money:
    """The usual prices weighed by the odds."""
    weights = [Decimal(repr(float(one.probability))) for one in likely]
    amount = sum((one.due.usual.amount * weight for one, weight in zip(likely, weights, strict=True)), Decimal(0))
    return Money(amount / sum(weights), likely[0].due.usual.currency)


def phone_card(asked: EstimateInput) -> PhoneCard:
    """The card for the telephone, with the sentence to say."""
    found = estimate(asked)
    chosen, _ = likely_suspects(asked.suspects)
    stop = asked.prices.find_minutes  # the minutes the fee pays for; then the telephone rings
    asks = ["yes to find it, up to " + say_money(found.find_fee, asked.locale)]
    if found.likely:
        asks.append("yes to mend it, up to " + say_money(found.due.high, asked.locale))
    return PhoneCard(
        found.find_fee, stop, found.standing, found.due.low, found.due.usual, found.due.high, asked.earliest,
        max((one.wait_days for one in chosen), default=0), _sentence(asked, found, stop), tuple(asks),
    )  # fmt: skip


def _sentence(asked: EstimateInput, found: Estimate, stop: int) -> str:
    fee = say_money(found.find_fee, asked.locale)
    say = [f"I charge {fee} to find it, and after {stop} minutes I stop and call you."]
    if not found.likely:
        say.append("What it is I cannot say yet.")
    else:
        names = [one.name for one in found.likely[:3]]
        what = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"
        low, usual, high = (say_money(one, asked.locale) for one in (found.due.low, found.due.usual, found.due.high))
        sure = "It is proved" if found.standing == "proved" else "It is likely, not proved"
        say.append(f"{sure}: {what}. That comes to {low} to {high}, usually {usual}, with tax.")
        if found.left_over >= 0.05:
            say.append(f"{say_odds(found.left_over).capitalize()} it is something else; then I call you first.")
        if found.worth.verdict == "retire":
            say.append("For a machine of this worth I would not mend it.")
        if asked.prices.fee_credited:
            say.append("If I mend it, the fee for finding counts towards it.")
    if asked.prices.reassembly_fee is not None:
        returned = say_money(found.options[-1].due.usual, asked.locale)
        say.append(f"If you want it back as it is, that is {returned} in all.")
    if asked.earliest:
        say.append(f"The earliest day is {say_day(asked.earliest, asked.locale)}.")
    say.append("Nothing above what you agree to without asking you again.")
    return " ".join(say)

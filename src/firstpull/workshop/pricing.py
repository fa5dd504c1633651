"""Prices of the shop and what follows from them: lines, tax and totals, all in decimal money."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal

from firstpull.base.errors import InputError
from firstpull.base.money import Money

Condition = Literal["new", "used", "rebuilt"]


@dataclass(frozen=True, slots=True)
class Span:
    """Low, usual and high of one amount of money."""

    low: Money
    usual: Money
    high: Money

    @classmethod
    def flat(cls, money: Money) -> Span:
        """One amount that is sure."""
        return cls(money, money, money)

    def __add__(self, other: Span) -> Span:
        """Both together, as if they were low or high at once: the honest outer range."""
        return Span(self.low + other.low, self.usual + other.usual, self.high + other.high)

    def times(self, factor: Decimal | int) -> Span:
        """The span multiplied by a factor of 0 or more."""
        return Span(self.low * factor, self.usual * factor, self.high * factor)

    def at_least(self, floor: Money) -> Span:
        """The span with nothing below the floor."""
        return Span(*(max(one, floor, key=lambda money: money.amount) for one in (self.low, self.usual, self.high)))


@dataclass(frozen=True, slots=True)
class Minutes:
    """Low, usual and high hands-on minutes of a piece of work. Waiting is not labour and is not in here."""

    low: float
    usual: float
    high: float

    def __post_init__(self) -> None:
        """Refuse minutes that are none.

        Raises:
            InputError: when they do not rise from low to high, or are not finite.
        """
        if not 0 <= self.low <= self.usual <= self.high < 100_000:
            raise InputError(f"{self.low}, {self.usual}, {self.high}", "minutes", "rising minutes from 0")


@dataclass(frozen=True, slots=True)
class PartPrice:
    """What a part costs the customer before tax, and in which condition it is."""

    name: str
    price: Span
    quantity: int = 1
    condition: Condition = "new"

    def __post_init__(self) -> None:
        """Refuse a price that is none.

        Raises:
            InputError: when the price does not rise from low to high, or nothing is bought.
        """
        if not self.price.low <= self.price.usual <= self.price.high or self.quantity < 1:
            raise InputError("low, usual and high do not rise", f"part {self.name}", "rising prices, 1 or more")


@dataclass(frozen=True, slots=True)
class Service:
    """A common piece of work at a flat price."""

    id: str
    name: str
    price: Money


@dataclass(frozen=True)
class Prices:
    """What this shop charges. All amounts are before tax unless `tax_included` says otherwise."""

    rate_per_hour: Money
    find_fee: Money
    find_minutes: int = 30
    fee_credited: bool = True
    minimum: Money | None = None
    mark_up: Decimal = Decimal(0)
    tax: Decimal = Decimal(0)
    tax_included: bool = False
    services: Mapping[str, Service] = field(default_factory=dict)
    seasonal: Service | None = None
    reassembly_fee: Money | None = None
    valid_days: int = 30

    def __post_init__(self) -> None:
        """Refuse prices that cannot be meant.

        Raises:
            InputError: for a share below nothing.
        """
        if self.mark_up < 0 or self.tax < 0:
            raise InputError("a share below nothing", "mark-up or tax", "0.19 for 19 in a hundred")

    @property
    def nothing(self) -> Money:
        """No money in the shop's currency."""
        return self.rate_per_hour * 0

    def with_tax(self, money: Money) -> Money:
        """What a customer hears and pays for this amount."""
        return money if self.tax_included else money + money * self.tax

    def labour(self, minutes: float) -> Money:
        """What so many hands-on minutes cost."""
        return self.rate_per_hour * (Decimal(repr(round(float(minutes), 3))) / 60)

    def labour_span(self, minutes: Minutes) -> Span:
        """What a span of hands-on minutes costs."""
        return Span(self.labour(minutes.low), self.labour(minutes.usual), self.labour(minutes.high))

    def marked_up(self, cost: Money) -> Money:
        """What a part that cost the shop so much costs the customer."""
        return cost * (1 + self.mark_up)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an estimate or a bill, before tax unless the shop's prices hold it."""

    kind: Literal["find", "labour", "part", "service", "minimum", "credit"]
    name: str
    amount: Span
    quantity: int = 1
    condition: str = ""


@dataclass(frozen=True, slots=True)
class Total:
    """Sum of the lines, the tax in or on it, and what is to be paid."""

    net: Span
    tax: Span
    due: Span


def total_of(lines: Iterable[Line], prices: Prices) -> Total:
    """Add the lines and the tax; tax is rounded once, on the sum."""
    net = Span.flat(prices.nothing)
    for line in lines:
        net = net + line.amount
    net = net.at_least(prices.nothing)
    if prices.tax_included:
        share = prices.tax / (1 + prices.tax)
        return Total(net, net.times(share), net)
    tax = net.times(prices.tax)
    return Total(net, tax, net + tax)


def with_minimum(lines: tuple[Line, ...], prices: Prices) -> tuple[Line, ...]:
    """The lines, topped up to the minimum charge when the shop has one."""
    if prices.minimum is None:
        return lines
    net = total_of(lines, prices).net
    floor = net.at_least(prices.minimum)
    top_up = Span(floor.low - net.low, floor.usual - net.usual, floor.high - net.high)
    if top_up.low <= prices.nothing:
        return lines
    # The top-up is largest where the sum is smallest: as a line of its own it falls from low to high.
    return (*lines, Line("minimum", "minimum charge", top_up))

"""Who this shop is and what it charges: two settings, read in one place and checked when they are kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.base.money import Money
from firstpull.bench.intake import CURRENCY_KEY, USUAL_CURRENCY
from firstpull.bench.shop import PRICES_KEY, Shop
from firstpull.workshop.pricing import Prices, Service
from firstpull.workshop.saying import say_day, say_money

_T = TypeVar("_T", bound=BaseModel)
SHOP_KEY = "shop"
CHARGES_KEY = "charges"
DEMO_KEY = "demo"
# The invented workshop's own words, used when nothing else was written down in a demonstration.
HARROW_VALE = {
    "name": "Harrow Vale repair bench",
    "lines": ["Tool library, 3 Mill Yard, Harrow Vale", "Tuesday to Saturday, 9 to 5"],
    "terms": [
        "No work beyond the agreed sum without a new yes.",
        "Parts the owner brings carry no promise from us.",
        "A machine that fails a safety check leaves only with the fault in writing.",
    ],
    "warranty": ["Parts and labour for 90 days on what is listed here. A first look is free."],
}


class _Own(BaseModel):
    model_config = ConfigDict(extra="forbid", str_strip_whitespace=True)


class ShopWords(_Own):
    """The shop as it signs its papers. What was never written down is empty and is printed nowhere."""

    name: str = Field(default="", max_length=200)
    lines: tuple[str, ...] = ()
    currency: str = Field(default="", pattern=r"^([A-Z]{3})?$")
    locale: str = "en"
    terms: tuple[str, ...] = ()
    warranty: tuple[str, ...] = ()
    address: str = ""
    period_days: int = Field(default=90, ge=0, le=3660)


class FlatPrice(_Own):
    """A common piece of work at a flat price."""

    name: str = Field(min_length=1, max_length=200)
    price: Decimal = Field(ge=0, lt=1_000_000)


class Charges(_Own):
    """What the shop charges, in its currency and before tax. The usual figures are judgement."""

    find_fee: Decimal = Field(default=Decimal(25), ge=0, lt=1_000_000)
    find_minutes: int = Field(default=30, ge=0, le=10_000)
    fee_credited: bool = True
    minimum: Decimal | None = Field(default=None, ge=0, lt=1_000_000)
    mark_up: Decimal = Field(default=Decimal(0), ge=0, le=10)
    tax: Decimal = Field(default=Decimal(0), ge=0, le=1)
    tax_included: bool = False
    reassembly_fee: Decimal | None = Field(default=None, ge=0, lt=1_000_000)
    valid_days: int = Field(default=30, ge=0, le=3660)
    services: dict[str, FlatPrice] = {}
    seasonal: FlatPrice | None = None


@dataclass(frozen=True, slots=True)
class Ourselves:
    """The shop's words, its currency, and ways to write money and days as people there write them."""

    words: ShopWords
    currency: str

    @property
    def name(self) -> str:
        """The shop's name, or plainly what it is when nobody wrote one down."""
        return self.words.name or "Repair bench"

    def money(self, amount: Money | None) -> str | None:
        """A sum in writing; None stays None."""
        return None if amount is None else say_money(amount, self.words.locale)

    def day(self, text: str) -> str | None:
        """A day in writing; None when there is none."""
        return say_day(text, self.words.locale) if text else None

    def short_day(self, text: str) -> str | None:
        """A day in writing without the day of the week, for narrow places; None when there is none."""
        return say_day(text, self.words.locale, "long") if text else None


def ourselves(shop: Shop) -> Ourselves:
    """The shop as it is written down; the demonstration is the invented workshop of Harrow Vale.

    Raises:
        FirstpullError: the setting cannot be read.
    """
    demo = shop.demo or bool(shop.store.get_setting(DEMO_KEY))
    held = shop.store.get_setting(SHOP_KEY) or (HARROW_VALE if demo else {})
    words = _read(ShopWords, held, SHOP_KEY)
    currency = words.currency or str(shop.store.get_setting(CURRENCY_KEY, USUAL_CURRENCY))
    return Ourselves(words, currency)


def keep_shop_words(shop: Shop, said: Mapping[str, Any]) -> ShopWords:
    """Keep the shop's name, lines, currency, locale, terms and warranty.

    Raises:
        FirstpullError: everything that cannot be read; nothing is kept then.
    """
    words = _read(ShopWords, said, SHOP_KEY)
    say_day("2026-01-01", words.locale)
    if words.currency:
        Money.of(0, words.currency)
        shop.store.put_setting(CURRENCY_KEY, words.currency)
    shop.store.put_setting(SHOP_KEY, words.model_dump(mode="json"))
    return words


def charges(shop: Shop) -> Charges:
    """What the shop charges beside its rate per hour.

    Raises:
        FirstpullError: the setting cannot be read.
    """
    return _read(Charges, shop.store.get_setting(CHARGES_KEY) or {}, CHARGES_KEY)


def keep_charges(shop: Shop, said: Mapping[str, Any]) -> Charges:
    """Keep what the shop charges; a `rate_per_hour` among it is kept where the planner reads it too.

    Raises:
        FirstpullError: everything that cannot be read; nothing is kept then.
    """
    rest = dict(said)
    rate = rest.pop("rate_per_hour", None)
    found = _read(Charges, rest, CHARGES_KEY)
    if rate is not None:
        amount = _rate(rate)
        held = dict(shop.store.get_setting(PRICES_KEY, {}) or {})
        shop.store.put_setting(PRICES_KEY, held | {"rate_per_hour": amount})
    shop.store.put_setting(CHARGES_KEY, found.model_dump(mode="json"))
    return found


def prices(shop: Shop) -> Prices:
    """Everything that an estimate and a bill rest on, in the shop's currency.

    Raises:
        FirstpullError: a setting cannot be read.
    """
    found, currency = charges(shop), ourselves(shop).currency

    def money(amount: Decimal | None) -> Money | None:
        return None if amount is None else Money.of(amount, currency)

    seasonal = found.seasonal
    return Prices(
        rate_per_hour=Money.of(Decimal(repr(shop.prices().rate_per_hour)), currency),
        find_fee=Money.of(found.find_fee, currency),
        find_minutes=found.find_minutes,
        fee_credited=found.fee_credited,
        minimum=money(found.minimum),
        mark_up=found.mark_up,
        tax=found.tax,
        tax_included=found.tax_included,
        services={i: Service(i, one.name, Money.of(one.price, currency)) for i, one in found.services.items()},
        seasonal=None if seasonal is None else Service("seasonal", seasonal.name, Money.of(seasonal.price, currency)),
        reassembly_fee=money(found.reassembly_fee),
        valid_days=found.valid_days,
    )


def read_sum(text: str, currency: str, where: str) -> Money:
    """A sum as it was typed; a comma is a decimal point.

    Raises:
        InputError: it is no sum, or a sum that nobody means.
    """
    try:
        found = Money.of(text.strip().replace(",", "."), currency)
    except (ArithmeticError, FirstpullError) as error:
        raise InputError(f"'{text}' is not a sum", where, "a number, for example 80") from error
    if not 0 <= found.amount < 1_000_000:
        raise InputError(f"'{text}' cannot be meant", where, "from 0 to 999999")
    return found


def _rate(raw: Any) -> float:
    try:
        rate = float(str(raw))
    except ValueError as error:
        raise InputError(f"{raw!r} is not a rate", "rate_per_hour", "money an hour, for example 48") from error
    if not 0 < rate < 100_000:
        raise InputError(f"a rate of {raw}", "rate_per_hour", "above 0")
    return rate


def _read(shape: type[_T], raw: Any, where: str) -> _T:
    try:
        return shape.model_validate(raw)
    except ValidationError as error:
        faults = [
            InputError(one["msg"], f"{where}.{'.'.join(map(str, one['loc']))}", ", ".join(shape.model_fields))
            for one in error.errors(include_url=False)
        ]
        raise ManyErrors(faults) from error

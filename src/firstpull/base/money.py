"""Decimal money with its currency; rounding is half up to the currency's own minor unit."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from firstpull.base.errors import FirstpullError

# Minor units that differ from two digits. Source: ISO 4217:2015 code list (from memory).
_MINOR_DIGITS = {"JPY": 0, "KRW": 0, "CLP": 0, "ISK": 0, "VND": 0, "BHD": 3, "KWD": 3, "OMR": 3, "TND": 3}


def minor_digits(currency: str) -> int:
    """How many digits stand behind the point in this currency."""
    return _MINOR_DIGITS.get(currency, 2)


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in one currency, always held to the minor unit."""

    amount: Decimal
    currency: str

    def __post_init__(self) -> None:
        if len(self.currency) != 3 or not self.currency.isalpha() or not self.currency.isupper():
            raise FirstpullError(
                f"'{self.currency}' is not a currency code", "money", "three capital letters, for example EUR"
            )
        if not self.amount.is_finite():
            raise FirstpullError(f"{self.amount} is not an amount of money", "money", "a finite decimal number")
        step = Decimal(1).scaleb(-minor_digits(self.currency))
        object.__setattr__(self, "amount", self.amount.quantize(step, rounding=ROUND_HALF_UP))

    @classmethod
    def of(cls, amount: Decimal | int | str, currency: str) -> Money:
        """Money from a decimal, a whole number or its text; binary fractions are not taken."""
        return cls(Decimal(amount), currency)

    def _same(self, other: Money) -> None:
        if other.currency != self.currency:
            raise FirstpullError(
                f"{other.currency} cannot be added to {self.currency}", "money", "one currency a bill"
            )

    def __add__(self, other: Money) -> Money:
        self._same(other)
        return Money(self.amount + other.amount, self.currency)

    def __sub__(self, other: Money) -> Money:
        self._same(other)
        return Money(self.amount - other.amount, self.currency)

    def __mul__(self, factor: Decimal | int) -> Money:
        return Money(self.amount * factor, self.currency)

    def __lt__(self, other: Money) -> bool:
        self._same(other)
        return self.amount < other.amount

    def __le__(self, other: Money) -> bool:
        self._same(other)
        return self.amount <= other.amount

    @property
    def minor(self) -> int:
        """The amount in whole minor units, as storage keeps it."""
        return int(self.amount.scaleb(minor_digits(self.currency)))

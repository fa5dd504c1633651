"""Money, shares and days as people of a place write them."""

from __future__ import annotations

from datetime import date
from typing import Literal

from firstpull.base.errors import InputError
from firstpull.base.money import Money


def _known(locale: str) -> str:
    """The locale's own name, with `-` or `_`.

    Raises:
        InputError: when nobody speaks so.
    """
    from babel import Locale, UnknownLocaleError

    try:
        return str(Locale.parse(locale.replace("-", "_")))
    except (UnknownLocaleError, ValueError, TypeError) as error:
        raise InputError(f"'{locale}' is not known", "locale", "for example en_GB or de_DE") from error


def say_money(money: Money, locale: str = "en") -> str:
    """The amount as it is written there.

    Raises:
        InputError: for an unknown locale.
    """
    from babel.numbers import format_currency

    return str(format_currency(money.amount, money.currency, locale=_known(locale)))


def say_day(day: str, locale: str = "en", length: Literal["full", "long", "medium"] = "full") -> str:
    """An ISO day as it is written there, with the day of the week when `full`; what is no day is said as it is.

    Raises:
        InputError: for an unknown locale.
    """
    from babel.dates import format_date

    known = _known(locale)
    try:
        return str(format_date(date.fromisoformat(day[:10]), format=length, locale=known))
    except ValueError:
        return day


def say_odds(probability: float) -> str:
    """Odds in words, without decimals."""
    for bound, words in ((0.015, "hardly ever"), (0.085, "less than 1 in 10")):
        if probability < bound:
            return words
    for bound, words in ((0.985, "nearly sure"), (0.95, "more than 9 in 10")):
        if probability >= bound:
            return words
    return f"about {min(9, round(probability * 10))} in 10"

"""The shop's settings as they stand."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.base.errors import InputError
from firstpull.bench.ourselves import keep_charges
from firstpull.bench.own_units import CHOICES, blades, own_units
from firstpull.bench.pages.cards import UNIT_NAMES
from firstpull.bench.pages.head import Choice
from firstpull.bench.shop import Shop
from firstpull.bench.tools import owned, set_owned

ALTITUDE = (-400.0, 5000.0)
AIR = (-30.0, 50.0)


@dataclass(frozen=True, slots=True)
class SettingsPage:
    """What the shop has, what it charges, where it stands."""

    tools: tuple[tuple[Choice, bool], ...]
    rate: str
    altitude: str
    air: str
    units: tuple[tuple[str, str, tuple[Choice, ...]], ...]
    blades: str


def settings_page(shop: Shop) -> SettingsPage:
    """The settings as they stand."""
    have = owned(shop)
    tools = sorted((t for t in shop.room.book.instruments.values() if not t.bare), key=lambda t: t.name)
    day = shop.store.get_setting("conditions", {}) or {}
    return SettingsPage(
        tuple((Choice(t.id, t.name), t.id in have) for t in tools), f"{shop.prices().rate_per_hour:g}",
        f"{float(day.get('altitude_m', 0.0)):g}", f"{float(day.get('air_c', 20.0)):g}",
        tuple((kind, own_units(shop).get(kind, ""), tuple(Choice(u, UNIT_NAMES.get(u, u)) for u in names))
              for kind, names in CHOICES.items()),
        ", ".join(f"{blade:g}" for blade in blades(shop)),
    )


def keep_settings(shop: Shop, tools: list[str], rate: str, altitude: str, air: str) -> None:
    """Keep the instruments, the rate per hour, and where the shop stands for jobs taken in from now on.

    Raises:
        FirstpullError: what cannot be read; nothing is kept then.
    """
    day = {"altitude_m": _number(altitude, "altitude", ALTITUDE), "air_c": _number(air, "air", AIR)}
    unknown = [t for t in tools if t not in shop.room.book.instruments]
    if unknown:
        raise InputError(f"unknown instrument '{unknown[0]}'", "instruments", "one of those on the page")
    keep_charges(shop, {"rate_per_hour": rate.strip().replace(",", ".")})
    set_owned(shop, tools)
    shop.store.put_setting("conditions", day)


def _number(text: str, where: str, bounds: tuple[float, float]) -> float:
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError as error:
        raise InputError(f"'{text[:20]}' is not a number", where, f"from {bounds[0]:g} to {bounds[1]:g}") from error
    if not bounds[0] <= value <= bounds[1]:
        raise InputError(f"{text[:20]} is out of range", where, f"from {bounds[0]:g} to {bounds[1]:g}")
    return value



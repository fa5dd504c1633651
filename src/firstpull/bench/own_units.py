"""The units and the feeler blades of this shop: what is offered first, and what strips are drawn in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from firstpull.base.errors import InputError
from firstpull.base.quantity import UNITS, convert, parse, unit
from firstpull.bench.shop import Shop
from firstpull.bench.strips import Strip, StripRow

UNITS_KEY = "units"
BLADES_KEY = "feeler-blades"
# What a hand may choose from, by kind; without a choice the handbook's own unit stands first.
CHOICES: dict[str, tuple[str, ...]] = {
    "pressure": ("psi", "kPa", "bar"), "length": ("mm", "thou", "in"), "temperature": ("C", "F_temp"),
    "torque": ("N.m", "lbf.in", "lbf.ft"),
}
MOST_BLADES = 40
THICKEST_MM = 3.0  # judgement: what is thicker is no blade


def own_units(shop: Shop) -> dict[str, str]:
    """The units that were chosen, by kind."""
    held = shop.store.get_setting(UNITS_KEY, {}) or {}
    return {k: str(v) for k, v in held.items() if v in CHOICES.get(str(k), ())}


def blades(shop: Shop) -> tuple[float, ...]:
    """The shop's feeler blades in millimetres, the thinnest first."""
    return tuple(float(x) for x in shop.store.get_setting(BLADES_KEY, []) or [])


def keep_units(shop: Shop, said: Mapping[str, str], blade_words: str) -> None:
    """Keep the units and the blades: numbers with a unit between commas, or bare millimetres.

    Raises:
        InputError: a unit or a blade cannot be read; nothing is kept then.
    """
    for kind, name in said.items():
        if name and name not in CHOICES.get(kind, ()):
            raise InputError(f"'{name[:20]}' is no unit of {kind}", "units", ", ".join(CHOICES.get(kind, ("none",))))
    pieces = [piece.strip() for piece in blade_words.replace(";", ",").replace("\n", ",").split(",") if piece.strip()]
    if len(pieces) > MOST_BLADES:
        raise InputError(f"{len(pieces)} blades", "feeler blades", f"at most {MOST_BLADES}")
    found = sorted({round(parse(p if not p[-1].isdigit() else f"{p} mm", "mm"), 4) for p in pieces})
    if any(not 0 < blade <= THICKEST_MM for blade in found):
        raise InputError("a blade that is none", "feeler blades", f"above 0 and at most {THICKEST_MM:g} mm")
    shop.store.put_setting(UNITS_KEY, {k: v for k, v in said.items() if v})
    shop.store.put_setting(BLADES_KEY, found)


def first_unit(chosen: Mapping[str, str], own: str) -> str:
    """The unit that stands first for a reading whose own unit is this."""
    return chosen.get(unit(own).kind, own) if own in UNITS else own


def said_in(value: float, source: str, target: str) -> str:
    """A value in another unit, as it is read on a page."""
    return f"{convert(value, source, target):.4g}"


def strip_in(strip: Strip, target: str) -> Strip:
    """A strip with its axis, limits, rows and mark in another unit of the same kind; its ticks are made anew."""
    if not strip.unit or target == strip.unit or strip.unit not in UNITS:
        return strip

    def to(value: float) -> float:
        return convert(value, strip.unit, target)

    rows = tuple(StripRow(r.number, r.name, tuple(to(x) for x in r.spread), r.chances, r.unread) for r in strip.rows)
    axis = (to(strip.axis[0]), to(strip.axis[1]))
    return replace(
        strip, unit=target, rows=rows, axis=axis, ticks=_round_ticks(axis) if not strip.log else strip.ticks,
        limits=tuple((to(x), below, above) for x, below, above in strip.limits),
        mark=to(strip.mark) if strip.mark is not None else None,
    )


def _round_ticks(axis: tuple[float, float]) -> tuple[float, ...]:
    """Round numbers within an axis whose ends need not be round."""
    span = axis[1] - axis[0]
    size = next(m * 10.0**e for e in range(-6, 9) for m in (1, 2, 5) if span / (m * 10.0**e) <= 5)
    first = int(axis[0] / size - 1e-9) if axis[0] <= 0 else int(axis[0] / size - 1e-9) + 1
    return tuple(round(i * size, 9) for i in range(first, first + 7) if axis[0] - 1e-9 <= i * size <= axis[1] + 1e-9)

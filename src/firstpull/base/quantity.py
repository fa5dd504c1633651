"""Units at the door: what people read and type becomes SI once, and SI becomes what people read.

Factors are exact by definition unless marked. Source: BIPM, The International System of Units, 9th ed. (2019);
NIST SP 811 (2008) appendix B for inch, pound-force and inch of mercury (the last is conventional).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from firstpull.base.errors import InputError

_INCH = 0.0254
_POUND_FORCE = 4.4482216152605
_PSI = _POUND_FORCE / _INCH**2


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: SI value = value * factor + offset; units of one kind convert into each other."""

    name: str
    kind: str
    factor: float
    offset: float = 0.0


def _table() -> dict[str, Unit]:
    rows: list[tuple[str, str, float, float]] = [
        ("mm", "length", 1e-3, 0), ("m", "length", 1, 0), ("cm", "length", 1e-2, 0), ("um", "length", 1e-6, 0),
        ("in", "length", _INCH, 0), ("thou", "length", _INCH / 1000, 0),
        ("Pa", "pressure", 1, 0), ("kPa", "pressure", 1e3, 0), ("bar", "pressure", 1e5, 0),
        ("psi", "pressure", _PSI, 0), ("inHg", "pressure", 3386.389, 0),
        ("V", "voltage", 1, 0), ("kV", "voltage", 1e3, 0), ("mV", "voltage", 1e-3, 0),
        ("A", "current", 1, 0), ("mA", "current", 1e-3, 0),
        ("ohm", "resistance", 1, 0), ("kohm", "resistance", 1e3, 0), ("Mohm", "resistance", 1e6, 0),
        ("F", "capacitance", 1, 0), ("uF", "capacitance", 1e-6, 0), ("nF", "capacitance", 1e-9, 0),
        ("s", "time", 1, 0), ("ms", "time", 1e-3, 0), ("min", "time", 60, 0), ("h", "time", 3600, 0),
        ("d", "time", 86400, 0),
        ("rpm", "rotation", 1 / 60, 0), ("Hz", "frequency", 1, 0),
        ("N", "force", 1, 0), ("lbf", "force", _POUND_FORCE, 0), ("kgf", "force", 9.80665, 0),
        ("N.m", "torque", 1, 0), ("lbf.in", "torque", _POUND_FORCE * _INCH, 0),
        ("lbf.ft", "torque", _POUND_FORCE * _INCH * 12, 0),
        ("K", "temperature", 1, 0), ("C", "temperature", 1, 273.15), ("F_temp", "temperature", 5 / 9, 273.15 - 160 / 9),
        ("deg", "angle", math.pi / 180, 0), ("rad", "angle", 1, 0),
        ("%", "share", 0.01, 0), ("1", "share", 1, 0),
        ("W", "power", 1, 0), ("kW", "power", 1e3, 0), ("J", "energy", 1, 0),
        ("m/s", "speed", 1, 0), ("mm/s", "speed", 1e-3, 0),
        ("m3", "volume", 1, 0), ("L", "volume", 1e-3, 0), ("mL", "volume", 1e-6, 0), ("cm3", "volume", 1e-6, 0),
        ("mm2", "area", 1e-6, 0), ("m2", "area", 1, 0),
        ("mL/min", "flow", 1e-6 / 60, 0), ("mL/h", "flow", 1e-6 / 3600, 0), ("L/min", "flow", 1e-3 / 60, 0),
        ("m3/s", "flow", 1, 0),
        ("g.mm", "unbalance", 1e-6, 0), ("kg", "mass", 1, 0), ("g", "mass", 1e-3, 0),
        ("kg.m2", "inertia", 1, 0),
    ]
    return {name: Unit(name, kind, factor, offset) for name, kind, factor, offset in rows}


UNITS = _table()
# Spellings that hands type, each a plain variant of a unit above.
_SPELLINGS = {
    "ohms": "ohm", "Ω": "ohm", "Ohm": "ohm", "kΩ": "kohm", "kilo-ohm": "kohm", "MΩ": "Mohm", "volt": "V", "volts": "V",
    "percent": "%", "r/min": "rpm", "1/min": "rpm", "PSI": "psi", "Nm": "N.m", "N·m": "N.m", "°C": "C", "degC": "C",
    "°F": "F_temp", "degF": "F_temp", "inch": "in", '"': "in", "sec": "s", "seconds": "s", "minutes": "min",
    "ml/min": "mL/min", "ml": "mL", "l/min": "L/min", "hz": "Hz", "µF": "uF", "°": "deg", "hour": "h", "days": "d",
}
_QUANTITY = re.compile(r"^\s*([+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?)\s*(\S.*?)?\s*$")


def unit(name: str) -> Unit:
    """The unit with this name or spelling.

    Raises:
        InputError: when no such unit is known.

    """
    key = _SPELLINGS.get(name, name)
    if key not in UNITS:
        raise InputError(f"unknown unit '{name}'", "unit", "one of " + ", ".join(sorted(UNITS)))
    return UNITS[key]


def to_si(value: float, unit_name: str) -> float:
    """A value in a bench unit as SI (temperatures as kelvin, turns as 1/s)."""
    found = unit(unit_name)
    return value * found.factor + found.offset


def from_si(value: float, unit_name: str) -> float:
    """An SI value in a bench unit."""
    found = unit(unit_name)
    return (value - found.offset) / found.factor


def convert(value: float, source: str, target: str) -> float:
    """A value from one unit in another of the same kind.

    Raises:
        InputError: when the units measure different things.

    """
    here, there = unit(source), unit(target)
    if here.kind != there.kind:
        same = sorted(u.name for u in UNITS.values() if u.kind == there.kind)
        raise InputError(
            f"{source} is a {here.kind}, and this reading is a {there.kind}", "unit", "one of " + ", ".join(same)
        )
    return from_si(to_si(value, source), target)


def parse(text: str, expected: str) -> float:
    """What was typed, as a number in the expected unit; a bare number is refused when a unit is needed.

    Raises:
        InputError: when the text is not a number with a fitting unit.

    """
    match = _QUANTITY.match(text)
    if match is None:
        raise InputError(f"'{text}' is not a number with a unit", "reading", f"for example '12 {expected}'")
    number = float(match[1].replace(",", "."))
    if not math.isfinite(number):
        raise InputError(f"'{text}' is too large to be a reading", "reading", f"a finite number of {expected}")
    if match[2] is None:
        if expected == "1":
            return number
        raise InputError(f"{match[1]} of what?", "reading", f"say the unit, for example '{match[1]} {expected}'")
    return convert(number, match[2], expected)

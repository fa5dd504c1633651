"""Units at the door, against an outside library of units."""

from __future__ import annotations

import math
from contextlib import suppress

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstpull.base.errors import InputError
from firstpull.base.quantity import UNITS, convert, from_si, parse, to_si, unit

PINT: pint.UnitRegistry[float] = pint.UnitRegistry()
# What the outside library calls our units, and the SI unit that ours stand for.
OUTSIDE = {
    "mm": ("millimeter", "meter"), "m": ("meter", "meter"), "cm": ("centimeter", "meter"),
    "um": ("micrometer", "meter"), "in": ("inch", "meter"), "thou": ("thou", "meter"),
    "Pa": ("pascal", "pascal"), "kPa": ("kilopascal", "pascal"), "bar": ("bar", "pascal"), "psi": ("psi", "pascal"),
    "inHg": ("inch_Hg", "pascal"), "V": ("volt", "volt"), "kV": ("kilovolt", "volt"), "mV": ("millivolt", "volt"),
    "A": ("ampere", "ampere"), "mA": ("milliampere", "ampere"), "ohm": ("ohm", "ohm"), "kohm": ("kiloohm", "ohm"),
    "Mohm": ("megaohm", "ohm"), "F": ("farad", "farad"), "uF": ("microfarad", "farad"), "nF": ("nanofarad", "farad"),
    "s": ("second", "second"), "ms": ("millisecond", "second"), "min": ("minute", "second"), "h": ("hour", "second"),
    "d": ("day", "second"), "Hz": ("hertz", "hertz"), "N": ("newton", "newton"), "lbf": ("pound_force", "newton"),
    "kgf": ("kilogram_force", "newton"), "N.m": ("newton*meter", "newton*meter"),
    "lbf.in": ("pound_force*inch", "newton*meter"), "lbf.ft": ("pound_force*foot", "newton*meter"),
    "K": ("kelvin", "kelvin"), "C": ("degC", "kelvin"), "F_temp": ("degF", "kelvin"), "deg": ("degree", "radian"),
    "rad": ("radian", "radian"), "%": ("percent", "dimensionless"), "1": ("dimensionless", "dimensionless"),
    "W": ("watt", "watt"), "kW": ("kilowatt", "watt"), "m3": ("meter**3", "meter**3"), "L": ("liter", "meter**3"),
    "mL": ("milliliter", "meter**3"), "cm3": ("cm**3", "meter**3"), "mm2": ("mm**2", "meter**2"),
    "m2": ("meter**2", "meter**2"), "mL/min": ("milliliter/minute", "meter**3/second"),
    "L/min": ("liter/minute", "meter**3/second"), "m3/s": ("meter**3/second", "meter**3/second"),
    "g.mm": ("gram*millimeter", "kilogram*meter"), "kg": ("kilogram", "kilogram"), "g": ("gram", "kilogram"),
    "kg.m2": ("kilogram*meter**2", "kilogram*meter**2"), "mm/s": ("millimeter/second", "meter/second"),
    "m/s": ("meter/second", "meter/second"), "mm3": ("mm**3", "meter**3"), "J": ("joule", "joule"),
    "mL/h": ("milliliter/hour", "meter**3/second"), "L/h": ("liter/hour", "meter**3/second"),
}  # fmt: skip


def test_every_unit_but_turns_is_compared_with_the_outside_library() -> None:
    # The outside library counts a turn as 2 pi; we count turns, so that one is checked by hand below.
    assert set(UNITS) - set(OUTSIDE) <= {"rpm"}


@pytest.mark.parametrize("name", sorted(set(UNITS) & set(OUTSIDE)))
@pytest.mark.parametrize("value", [0.0, 1.0, 37.25])
def test_a_unit_agrees_with_the_outside_library(name: str, value: float) -> None:
    theirs, si = OUTSIDE[name]
    expected = PINT.Quantity(value, theirs).to(si).magnitude
    # Inches of mercury are conventional (0 C); the sources round differently in the sixth digit.
    assert to_si(value, name) == pytest.approx(expected, rel=2e-6 if name == "inHg" else 1e-12, abs=1e-12)


def test_turns_a_minute_are_turns_a_second_times_sixty() -> None:
    assert to_si(3000.0, "rpm") == pytest.approx(50.0)


@given(name=st.sampled_from(sorted(UNITS)), value=st.floats(-1e9, 1e9))
def test_there_and_back_is_the_same_value(name: str, value: float) -> None:
    back = from_si(to_si(value, name), name)
    assert back == pytest.approx(value, rel=1e-9, abs=1e-3 * abs(UNITS[name].offset) * 1e-9 + 1e-6)


@given(data=st.data(), value=st.floats(-1e6, 1e6))
def test_units_of_one_kind_convert_into_each_other_and_back(data: st.DataObject, value: float) -> None:
    here = data.draw(st.sampled_from(sorted(UNITS)))
    there = data.draw(st.sampled_from(sorted(n for n in UNITS if UNITS[n].kind == UNITS[here].kind)))
    assert convert(convert(value, here, there), there, here) == pytest.approx(value, rel=1e-9, abs=1e-6)


@given(a=st.sampled_from(sorted(UNITS)), b=st.sampled_from(sorted(UNITS)))
def test_units_of_different_kinds_are_refused_with_the_ones_that_fit(a: str, b: str) -> None:
    if UNITS[a].kind == UNITS[b].kind:
        assert math.isfinite(convert(1.0, a, b))
        return
    with pytest.raises(InputError) as caught:
        convert(1.0, a, b)
    assert b in caught.value.right


@pytest.mark.parametrize(
    ("text", "expected", "value"),
    [
        ("62 psi", "kPa", 62 * 6.894757293168),
        ("0.010 in", "mm", 0.254),
        ("10 thou", "mm", 0.254),
        ("0,25 mm", "mm", 0.25),
        ("  1.5e3 ohms ", "kohm", 1.5),
        (".5mm", "mm", 0.5),
        ("-4 °C", "C", -4.0),
        ("212 °F", "C", 100.0),
        ("85 %", "%", 85.0),
        ("85 %", "1", 0.85),
        ("0.85", "1", 0.85),
        ("3000 r/min", "rpm", 3000.0),
        ("8 lbf.ft", "N.m", 10.8465438),
    ],
)
def test_what_people_type_is_read(text: str, expected: str, value: float) -> None:
    assert parse(text, expected) == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "expected", "says"),
    [
        ("sixty psi", "kPa", "not a number"),
        ("", "kPa", "not a number"),
        ("62", "kPa", "62 of what"),
        ("62 furlongs", "kPa", "unknown unit"),
        ("62 mm", "kPa", "is a length"),
        ("1e999 psi", "kPa", "too large"),
        ("1.2.3 psi", "kPa", "unknown unit|not a number"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_what_would_be_right(text: str, expected: str, says: str) -> None:
    with pytest.raises(InputError, match=says) as caught:
        parse(text, expected)
    assert caught.value.right


@given(text=st.text(max_size=30), expected=st.sampled_from(["kPa", "mm", "ohm", "1", "C"]))
def test_no_text_crashes_the_reader(text: str, expected: str) -> None:
    with suppress(InputError):
        assert math.isfinite(parse(text, expected))


def test_every_spelling_names_a_unit() -> None:
    for spelled in ("ohms", "Ω", "kΩ", "percent", "PSI", "N·m", "µF", "degF"):
        assert unit(spelled).name in UNITS

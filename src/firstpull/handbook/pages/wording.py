"""Numbers of the handbook in words: bands, spreads, prices, minutes."""

from __future__ import annotations

import math

from firstpull.handbook.entries import Draw, Only, Spec

KINDS = {
    "fault": ("Fault", "Faults"),
    "check": ("Check", "Checks"),
    "repair": ("Repair", "Repairs"),
    "access": ("Access", "Things that come off or are added"),
    "drive": ("Drive", "Ways of spinning it"),
    "complaint": ("Complaint", "Complaints"),
    "told": ("Told", "Told by the customer"),
    "instrument": ("Instrument", "Instruments"),
    "caution": ("Caution", "Cautions"),
    "release": ("Before it leaves", "Before it leaves"),
    "machine": ("Machine", "Machines"),
    "retired": ("No longer used", "Names no longer used"),
}


def amount(value: float, unit: str = "1") -> str:
    """A number with its unit; a plain number for what has none."""
    size = abs(value)
    text = f"{value:,.0f}" if 1000 <= size < 1e6 and value == round(value) else f"{value:.4g}"
    return text if unit == "1" else f"{text} {unit}"


def band(low: float | None, high: float | None, unit: str) -> str:
    """From where to where something is said."""
    if low is None:
        return "anything" if high is None else f"below {amount(high, unit)}"
    if high is None:
        return f"{amount(low, unit)} and more"
    return f"from {amount(low, unit)} to below {amount(high, unit)}"


def range_of(spec: Spec) -> str:
    """A specification range as a mechanic reads it."""
    if spec.low is None and spec.high is None:
        return "no figure held"
    if spec.low is None or spec.high is None:
        return (
            f"at most {amount(spec.high or 0.0, spec.unit)}"
            if spec.low is None
            else f"at least {amount(spec.low, spec.unit)}"
        )
    return f"{amount(spec.low)} to {amount(spec.high, spec.unit)}"


def drawn(draw: Draw, unit: str) -> str:
    """What a fault, or a class, does to a number."""
    one = {"fixed": draw.value, "normal": draw.mean, "log-normal": draw.median}.get(draw.form)
    if one is not None:
        match draw.form:
            case "normal":
                return f"about {amount(one, unit)}, give or take {amount(draw.sd or 0.0, unit)}"
            case "log-normal":
                return f"about {amount(one, unit)}, times or divided by {amount(math.exp(min(draw.sigma or 0.0, 99)))}"
        return f"always {amount(one, unit)}"
    if draw.values:
        return "one of " + ", ".join(amount(value, unit) for value in draw.values)
    span = f"{amount(draw.low or 0.0)} to {amount(draw.high or 0.0)}"
    match draw.form:
        case "shift":
            return f"what it was plus {span}" + ("" if unit == "1" else f" {unit}")
        case "scale":
            return f"what it was times {span}"
    even = ", evenly" if draw.form == "uniform" else ", evenly by ratio"
    return span + ("" if unit == "1" else f" {unit}") + even


def minutes(hands: float, waiting: float = 0.0) -> str:
    """Minutes with hands on it, and minutes of waiting when there are any."""
    return f"{amount(hands)} min" + (f", and {amount(waiting)} min of waiting" if waiting else "")


def percent(share: float) -> str:
    """A share as people say it."""
    return f"{share * 100:.3g} %"


def only_for(only: Only) -> str:
    """For which machines an entry exists; nothing when for all."""
    return "; ".join(f"{trait.replace('_', ' ')}: {' or '.join(words)}" for trait, words in only.items())

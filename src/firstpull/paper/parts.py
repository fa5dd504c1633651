"""The pieces sheets are made of: plain values, already worded and formatted by whoever hands them in.

A ``None`` is a thing nobody knows. A form prints it as a blank line to fill in; a statement prints "not recorded".
"""

from dataclasses import dataclass
from typing import Literal

Verdict = Literal["proved", "undecided", "failed", "to-do"]


@dataclass(frozen=True)
class Shop:
    """Whose paper this is: the name and the lines under it (street, telephone, hours)."""

    name: str
    lines: tuple[str, ...] = ()


@dataclass(frozen=True)
class Head:
    """What every sheet of a job carries in its title strip and title block."""

    shop: Shop
    job: str
    machine: str
    complaint: str | None = None
    owner: str | None = None
    date: str | None = None
    at_bench: str | None = None
    lang: str = "en"


@dataclass(frozen=True)
class Fact:
    """A labelled value."""

    label: str
    value: str | None = None


@dataclass(frozen=True)
class Caution:
    """A thing that can hurt somebody: the order first, then why."""

    say: str
    because: str | None = None


@dataclass(frozen=True)
class Proof:
    """A thing that was tried, how, and what the trial says."""

    what: str
    how: str | None
    verdict: Verdict
    word: str | None = None


@dataclass(frozen=True)
class Measured:
    """A value held against its specification. The verdict is the shop's own rule, not this room's."""

    what: str
    value: str | None
    specification: str | None
    verdict: Verdict
    word: str | None = None


@dataclass(frozen=True)
class Picture:
    """A photo as JPEG bytes and what it shows, in words for whoever cannot see it too."""

    jpeg: bytes
    shows: str


@dataclass(frozen=True)
class Renewed:
    """A part that was renewed: its number, whether new, used or rebuilt, and why it had to be."""

    what: str
    number: str | None = None
    standing: str | None = None
    why: str | None = None


@dataclass(frozen=True)
class PriceLine:
    """One line of money. ``running`` is the sum up to and with this line, carried over when the page turns."""

    what: str
    amount: str | None
    detail: str | None = None
    standing: str | None = None
    quantity: str | None = None
    running: str | None = None


@dataclass(frozen=True)
class Total:
    """A sum under the lines; a strong one is drawn large."""

    label: str
    amount: str | None
    strong: bool = False


@dataclass(frozen=True)
class Signer:
    """A line to sign on: in what part, and the printed name if it is known."""

    part: str
    name: str | None = None


@dataclass(frozen=True)
class Contacted:
    """A call, message or letter to the owner, and what came of it."""

    when: str
    how: str
    said: str | None = None


@dataclass(frozen=True)
class Option:
    """One way to go on, with its price."""

    title: str
    lines: tuple[PriceLine, ...]
    totals: tuple[Total, ...] = ()
    ready: str | None = None
    note: str | None = None


@dataclass(frozen=True)
class PencilCheck:
    """A check to be done without power: its key for typing back, outcomes to tick, values to write."""

    key: str
    title: str
    outcomes: tuple[str, ...] = ()
    values: tuple[str, ...] = ()
    how: str | None = None
    minutes: str | None = None
    cautions: tuple[Caution, ...] = ()


NodeKind = Literal["check", "repair", "access", "ask", "stop"]


@dataclass(frozen=True)
class Branch:
    """What was found at a step, how often it is expected, and the step it leads to."""

    outcome: str
    to: "Node"
    share: str | None = None


@dataclass(frozen=True)
class Node:
    """A step of a strategy, and what follows each of its outcomes. Without branches it is an end."""

    title: str
    kind: NodeKind = "check"
    minutes: str | None = None
    caution: str | None = None
    note: str | None = None
    branches: tuple[Branch, ...] = ()

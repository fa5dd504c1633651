"""What the body of each kind of event must hold.

A body is checked when it is written and never again: what was true when it was stored is shown for ever.
Ids of checks, repairs, faults and stages are plain words here; an id this version does not know is kept.
`private` names the fields that can hold a customer's name or own words: they are stored apart from the event
(see `privacy`). A field that nobody declared counts as private too, unless the kind is written by the tool
alone.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any, ClassVar, Literal

from pydantic import BaseModel, ConfigDict, Field, field_validator


class MoneyBody(BaseModel):
    """An amount as text, so that it never passes through a binary fraction."""

    model_config = ConfigDict(extra="forbid")
    amount: Decimal
    currency: str = Field(pattern=r"^[A-Z]{3}$")

    @field_validator("amount", mode="before")
    @classmethod
    def _no_binary_fraction(cls, value: object) -> object:
        if isinstance(value, float):
            # pydantic turns this kind of error, and no other, into a fault of the field.
            raise ValueError('write money as text, for example "12.50"')  # noqa: TRY004
        return value


class Body(BaseModel):
    """What every body may carry: when it really happened, if it is entered late."""

    model_config = ConfigDict(extra="allow", populate_by_name=False)
    private: ClassVar[frozenset[str]] = frozenset()
    tool_made: ClassVar[bool] = False
    when: str | None = None


class Opened(Body):
    """Taken in: four musts are asked for at the counter, and none of them is demanded here."""

    private: ClassVar[frozenset[str]] = frozenset({"words", "may_approve"})
    number: str = ""
    person: str = ""
    machine: str = ""
    machine_class: str = ""
    complaint: list[str] = []
    words: str = ""
    spending_limit: MoneyBody | None = None
    told: list[str] = []
    may_approve: str = ""
    left_with: list[str] = []
    old_parts_back: bool | None = None
    conditions: dict[str, Any] = {}
    stamp: dict[str, Any] = {}
    promised: str = ""
    comeback_of: str = ""
    place: str = ""


class Told(Body):
    """What the customer said of its history."""

    private: ClassVar[frozenset[str]] = frozenset({"words"})
    told: list[str] = []
    answer: str = ""
    complaint: list[str] = []
    words: str = ""
    result: str = ""


class Reading(Body):
    """One check, what it gave, and in which arrangement."""

    private: ClassVar[frozenset[str]] = frozenset({"words"})
    check: str = Field(min_length=1)
    reading: Any
    arrangement: dict[str, Any] = {}
    instrument: str = ""
    spread: Any = None
    times: int = 1
    while_: str = Field(default="", alias="while")
    by: str = ""
    implied: list[Any] = []
    question: Any = None
    after_complaint: bool | None = None
    together: list[str] = []
    earlier: bool = False
    words: str = ""


class Access(Body):
    """Something of the machine came off or went back, or something of ours went on or came off."""

    item: str = Field(min_length=1)
    state: Literal["on", "off"]
    implied: bool = False
    words: str = ""
    private: ClassVar[frozenset[str]] = frozenset({"words"})


class Repair(Body):
    """An act that changed the machine, by us or by somebody before us."""

    private: ClassVar[frozenset[str]] = frozenset({"words"})
    repair: str = Field(min_length=1)
    by: str = ""
    together: list[str] = []
    values: dict[str, Any] = {}
    minutes: Any = None
    toward: Any = None
    trial: bool = False
    words: str = ""


class Lent(Body):
    """A thing of the shop that is on the machine: a strap, a jumper, a test plug."""

    thing: str = Field(min_length=1)
    state: Literal["out", "back"] = "out"


class Note(Body):
    """Free words."""

    private: ClassVar[frozenset[str]] = frozenset({"text"})
    text: str = ""
    about: str = ""


class Value(Body):
    """A value set and written down: a gap, a torque, a clearance, a speed."""

    name: str = Field(min_length=1)
    value: Any
    unit: str = ""
    instrument: str = ""
    specification: Any = None
    repair: str = ""


class Part(Body):
    """One step in the life of a part."""

    private: ClassVar[frozenset[str]] = frozenset({"words"})
    part: str = Field(min_length=1)
    state: Literal["wanted", "ordered", "arrived", "returned", "fitted", "supplied-by-customer"]
    line: str = ""
    number: str = ""
    supplier: str = ""
    quantity: int = Field(default=1, ge=1)
    cost: MoneyBody | None = None
    price: MoneyBody | None = None
    deposit: MoneyBody | None = None
    promised: str = ""
    returnable: bool | None = None
    condition: Literal["", "new", "used", "rebuilt"] = ""
    proof: str = ""
    bad_from_the_box: bool = False
    words: str = ""


class Estimate(Body):
    """An estimate as it was said or printed; written by the tool."""

    tool_made: ClassVar[bool] = True
    standing: str = ""


class Approval(Body):
    """Who agreed, to what, up to what sum, when and how."""

    private: ClassVar[frozenset[str]] = frozenset({"who", "words"})
    to: Literal["find", "mend", "scrap", "instructor"]
    yes: bool
    sum: MoneyBody | None = None
    who: str = ""
    how: str = ""
    estimate: str = ""
    words: str = ""


class Advised(Body):
    """What the tool said; written by the tool and shown later as it was said."""

    tool_made: ClassVar[bool] = True


class Rebased(Body):
    """The job goes on under another engine, handbook or table of rates."""

    tool_made: ClassVar[bool] = True
    stamp: dict[str, Any]


class Withdrawn(Body):
    """Undo: the acts named here count no longer, and stay on the page."""

    private: ClassVar[frozenset[str]] = frozenset({"words"})
    acts: list[str] = Field(min_length=1)
    words: str = ""


class Stage(Body):
    """Where the job stands, what it waits for and until when."""

    private: ClassVar[frozenset[str]] = frozenset({"words"})
    stage: str = Field(min_length=1)
    until: str = ""
    promised: str = ""
    place: str = ""
    words: str = ""


class Clock(Body):
    """Hands on, hands off."""

    state: Literal["started", "paused"]
    on: str = ""
    waiting: bool = False


class Proof(Body):
    """The reading that shows a fault, or shows it cured; or that this shop cannot show it."""

    private: ClassVar[frozenset[str]] = frozenset({"words"})
    proof: str = Field(min_length=1)
    result: Literal["passed", "failed", "undecided", "not-done-here", "not-tested"]
    reading: Any = None
    unit: str = ""
    limit: Any = None
    source: str = ""
    arrangement: dict[str, Any] = {}
    of: str = ""
    second_hand: str = ""
    words: str = ""


class Release(Body):
    """One of the two doors out."""

    private: ClassVar[frozenset[str]] = frozenset({"words"})
    way: Literal["working", "returned"]
    why: str = ""
    missing: list[str] = []
    unsafe: list[str] = []
    reduced: list[str] = []
    override: dict[str, Any] = {}
    words: str = ""


class HandedBack(Body):
    """The machine left the shop."""

    private: ClassVar[frozenset[str]] = frozenset({"to", "words"})
    to: str = ""
    paid: MoneyBody | None = None
    how_paid: str = ""
    fuel: str = ""
    loose_bits: list[str] = []
    old_parts: list[str] = []
    refused: list[str] = []
    keep_open: bool = False
    words: str = ""


class FollowUp(Body):
    """A word some weeks later."""

    private: ClassVar[frozenset[str]] = frozenset({"words"})
    runs: bool | None = None
    due: str = ""
    how: str = ""
    words: str = ""


class Comeback(Body):
    """It came back: which job it came from and what class of cause was found."""

    private: ClassVar[frozenset[str]] = frozenset({"words"})
    of: str = ""
    cause_class: str = ""
    words: str = ""


class Abandoned(Body):
    """A step of the local notice rule: ready, called, notice posted, held, disposed."""

    private: ClassVar[frozenset[str]] = frozenset({"words", "to"})
    step: str = Field(min_length=1)
    how: str = ""
    to: str = ""
    proof: str = ""
    sum: MoneyBody | None = None
    words: str = ""


class Erased(Body):
    """The person behind this job asked to be forgotten; the engine facts stay."""

    tool_made: ClassVar[bool] = True
    person: str = ""


class PhotoForOwner(Body):
    """A picture, named by the act that brought it, goes on the owner's sheet, or no longer does."""

    photo: str = Field(min_length=1)
    shown: bool = True


class Photo(Body):
    """A picture or a recording, kept by the hash of its bytes."""

    private: ClassVar[frozenset[str]] = frozenset({"caption"})
    hash: str = Field(min_length=1)
    of: str = ""
    reading: str = ""
    caption: str = ""

"""What a handbook entry may say. Unknown keys are refused; everything that is read is frozen."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from firstpull.base.spread import Form, Spread

Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=60)]
Only = dict[str, tuple[str, ...]]
Minutes = Annotated[float, Field(ge=0, le=10_000)]
Share = Annotated[float, Field(ge=0, le=1)]


class Strict(BaseModel):
    """A table whose keys are all known and whose values do not change."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True, allow_inf_nan=False)


class Entry(Strict):
    """Anything with an id: what it is called and where its numbers come from."""

    id: Id
    name: Annotated[str, Field(min_length=1, max_length=80)]
    source: Annotated[str, Field(min_length=1)]


class Needs(Strict):
    """Access items that must be off, and items that must be on (in place, or fitted when they are added)."""

    off: tuple[Id, ...] = ()
    on: tuple[Id, ...] = ()


class Draw(Strict):
    """How a fault sets one parameter: one of the closed list of forms, always bounded by the parameter."""

    parameter: str
    form: Form
    value: float | None = None
    values: tuple[float, ...] = ()
    low: float | None = None
    high: float | None = None
    mean: float | None = None
    sd: float | None = None
    median: float | None = None
    sigma: float | None = None

    @model_validator(mode="after")
    def _has_its_numbers(self) -> Self:
        wanted = {
            "fixed": ("value",), "choice": ("values",), "uniform": ("low", "high"), "log-uniform": ("low", "high"),
            "normal": ("mean", "sd"), "log-normal": ("median", "sigma"), "shift": ("low", "high"),
            "scale": ("low", "high"),
        }[self.form]
        numbers = ("value", "low", "high", "mean", "sd", "median", "sigma")
        given = {name for name in numbers if getattr(self, name) is not None}
        given |= {"values"} if self.values else set()
        if given != set(wanted):
            found = ", ".join(sorted(given)) or "nothing"
            raise ValueError(f"form '{self.form}' takes {' and '.join(wanted)}, not {found}")
        return self

    def spread(self, low: float, high: float) -> Spread:
        """The form with its numbers, within the bounds of the parameter."""
        first, second = {
            "fixed": (self.value, 0.0), "choice": (0.0, 0.0), "normal": (self.mean, self.sd),
            "log-normal": (self.median, self.sigma),
        }.get(self.form, (self.low, self.high))
        return Spread(self.form, first or 0.0, second or 0.0, self.values, low, high)


class Fault(Entry):
    """A cause: what it does to parameters, how often it is met, what it can bring on."""

    system: str = ""
    numbers: tuple[str, ...] = ()
    part: Id
    rate: dict[str, Annotated[float, Field(ge=0)]]
    draws: tuple[Draw, ...]
    told: dict[Id, Annotated[float, Field(ge=0, le=1000)]] = {}
    brings: tuple[Id, ...] = ()
    duty: Share = 1.0
    hot_above_c: float | None = None
    only: Only = {}
    plain: str
    prevent: str = ""
    kind: Literal["machine", "operator", "workshop"] = "machine"


class Outcome(Strict):
    """A word for a band of what is read. `from` is inclusive, `below` exclusive; both in the reading's unit."""

    id: Id
    name: str
    start: float | None = Field(default=None, alias="from")
    below: float | None = None
    reads: str | None = None
    also: tuple[str, ...] = ()


class Reading(Strict):
    """One thing that a check gives: through an instrument (gauge) or by eye and hand.

    gauge: `reads` an engine observable; noise, bias, resolution and blunders are the instrument's, `scatter` is the
    spread from try to try. eye-and-hand: `reads` an engine parameter; `scatter` is the width of the detection curve
    and `false_alarm` the share of looks that see what is not there or miss what is.
    """

    key: Id | None = None
    model: Literal["gauge", "eye-and-hand"]
    reads: str = ""
    unit: str = "1"
    number: bool = False
    several: bool = False
    scale: Literal["linear", "log"] = "linear"
    scatter: Annotated[float, Field(ge=0)] = 0.0
    false_alarm: Share = 0.01
    outcomes: Annotated[tuple[Outcome, ...], Field(min_length=1)]
    spec: Id | None = None


class Check(Entry):
    """An act that gives a reading."""

    system: str = ""
    numbers: tuple[str, ...] = ()
    part: Id
    readings: Annotated[tuple[Reading, ...], Field(min_length=1, alias="reading")]
    instrument: Id = "eye"
    minutes: Minutes
    waiting: Minutes = 0.0
    spins: bool = False
    runs: bool = False
    drives: tuple[str, ...] = ()
    needs: Needs = Needs()
    wants: Needs = Needs()
    varies: tuple[Id, ...] = ()
    thermal: Literal["cold", "hot", "any"] = "any"
    choke: Literal["open", "part", "closed"] = "open"
    load: Literal["none", "half", "full"] = "none"
    setup: dict[str, float] = {}
    tries: Annotated[int, Field(ge=1, le=20)] = 1
    hazard: Literal["none", "turns", "spark", "fuel", "pressure", "running", "blade", "mains", "heat"] = "none"
    safer: tuple[Id, ...] = ()
    habit: str = ""
    how: tuple[str, ...]
    cautions: tuple[Id, ...] = ()
    unreliable: str = ""
    only: Only = {}


class Value(Strict):
    """A value to set and write down at a repair."""

    id: Id
    name: str
    unit: str
    spec: Id | None = None
    must: bool = True


class Part(Strict):
    """What a repair needs from the shelf or the supplier."""

    name: str
    low: Annotated[float, Field(ge=0)]
    usual: Annotated[float, Field(ge=0)]
    high: Annotated[float, Field(ge=0)]


class Proof(Strict):
    """The reading that shows a repair has cured."""

    check: Id
    outcomes: tuple[Id, ...]


class Repair(Entry):
    """An act that changes the machine.

    `cures` is what it is for and what its proof must notice; `besides` goes away with it, since the part is new or the
    thing is set anew.
    """

    system: str = ""
    numbers: tuple[str, ...] = ()
    part: Id
    cures: Annotated[tuple[Id, ...], Field(min_length=1)]
    besides: tuple[Id, ...] = ()
    renews: tuple[str, ...] = ()
    minutes: Minutes
    waiting: Minutes = 0.0
    needs: Needs = Needs()
    parts: tuple[Part, ...] = ()
    values: tuple[Value, ...] = ()
    takes: Share = 0.97
    proof: Proof
    hazard: Literal["none", "turns", "spark", "fuel", "pressure", "running", "blade", "mains", "heat"] = "none"
    locked: bool = False
    after: tuple[Id, ...] = ()  # checks that must have been read on this job before it is done
    instead: dict[Id, Id] = {}  # of these, a repair that answers as well, for a shop that cannot read it
    how: tuple[str, ...]
    habit: str = ""  # why it is not what is done first, for whoever would
    cautions: tuple[Id, ...] = ()
    only: Only = {}

    @cached_property
    def ends(self) -> frozenset[str]:
        """All faults that are gone after it, when it takes."""
        return frozenset((*self.cures, *self.besides))


class Access(Entry):
    """A thing that can be off, open, unplugged, drained (a part of the machine), or added by us."""

    numbers: tuple[str, ...] = ()
    added: bool = False
    tokens: tuple[str, ...]
    off_minutes: Minutes
    on_minutes: Minutes
    by_class: dict[Id, tuple[Minutes, Minutes]] = {}
    first: Needs = Needs()
    forbids: str = ""
    cautions: tuple[Id, ...] = ()
    part: Id | None = None
    only: Only = {}


class DriveWay(Entry):
    """A way of spinning the engine and what must be off and on for it."""

    drive: Literal["rope", "lazy-rope", "drill", "starter"]
    needs: Needs = Needs()
    minutes: Minutes = 0.0
    cautions: tuple[Id, ...] = ()
    only: Only = {}


class Complaint(Entry):
    """What the customer says: an observable heard through somebody who words it badly."""

    numbers: tuple[str, ...] = ()
    group: str
    phrases: tuple[str, ...] = ()
    reads: str
    start: float | None = Field(default=None, alias="from")
    below: float | None = None
    scatter: Annotated[float, Field(ge=0)] = 0.0
    scale: Literal["linear", "log"] = "linear"
    heard: Share
    false_alarm: Share
    thermal: Literal["cold", "hot"] = "cold"
    choke: Literal["open", "part", "closed"] = "open"
    load: Literal["none", "half", "full"] = "none"
    minutes: Minutes = 3.0
    only: Only = {}


class Told(Entry):
    """History: a question to the customer, with its price by place."""

    numbers: tuple[str, ...] = ()
    question: str
    phrases: tuple[str, ...] = ()
    minutes_counter: Minutes = 0.5
    minutes_phone: Minutes = 5.0
    common: Share = 0.1
    only: Only = {}


class Instrument(Entry):
    """Something that reads: its noise, and how it is set up. `bare` ones (eye, hand, ear) every shop has."""

    unit: str = "1"
    noise: Annotated[float, Field(ge=0)] = 0.0
    relative: Annotated[float, Field(ge=0)] = 0.0
    bias: Annotated[float, Field(ge=0)] = 0.0
    resolution: Annotated[float, Field(ge=0)] = 0.0
    blunder: Share = 0.01
    setup: dict[str, float] = {}
    usual: bool = True
    bare: bool = False


class Caution(Strict):
    """One sentence before a step, and at most one plain second line."""

    id: Id
    text: Annotated[str, Field(min_length=1, max_length=120)]
    more: str = ""
    danger: bool = True
    repeat: bool = False
    source: str


class Spec(Strict):
    """A specification range of a class: figures with their standing, or plainly none held."""

    id: Id
    name: str
    unit: str
    low: float | None = None
    high: float | None = None
    standing: Literal["standard", "maker", "common practice", "judgement", "none held"]
    source: str


class ReleaseProof(Entry):
    """What must have been shown before a machine leaves as working."""

    check: Id
    outcomes: tuple[Id, ...] = ()
    spec: Id | None = None
    times: Annotated[int, Field(ge=1, le=10)] = 1
    safety: bool = True
    after_parts: tuple[Id, ...] = ()
    only: Only = {}


class Healthy(Draw):
    """How a parameter spreads on healthy machines of a class."""

    source: str


class MachineClass(Entry):
    """A kind of machine: traits and sizes for the engine, healthy spreads, specification, worth."""

    sizes: dict[str, float | str]
    healthy: tuple[Healthy, ...] = ()
    specs: tuple[Spec, ...] = Field(default=(), alias="spec")
    worth: tuple[float, float, float]
    drawing: Id
    phrases: tuple[str, ...] = ()
    outside: str = ""


class Retired(Strict):
    """An id that an entry once had. It is never used again; old jobs still name it."""

    id: Id
    kind: Literal["fault", "check", "repair", "access", "complaint", "told", "instrument", "machine"]
    becomes: Id | None = None
    since: str
    source: str = "judgement"


class Chapter(Strict):
    """One TOML file: any number of entries of any kind, all of one system."""

    system: str = ""
    about: str = ""
    fault: tuple[Fault, ...] = ()
    check: tuple[Check, ...] = ()
    repair: tuple[Repair, ...] = ()
    access: tuple[Access, ...] = ()
    drive: tuple[DriveWay, ...] = ()
    complaint: tuple[Complaint, ...] = ()
    told: tuple[Told, ...] = ()
    instrument: tuple[Instrument, ...] = ()
    caution: tuple[Caution, ...] = ()
    release: tuple[ReleaseProof, ...] = ()
    machine: tuple[MachineClass, ...] = ()
    retired: tuple[Retired, ...] = ()

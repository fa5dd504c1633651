"""One act, one event; the kinds of event there are, and how older ones become current ones.

An event whose kind or version this program does not know is kept, shown and left out of the folding; it is
never refused. Everything above the storage sees known kinds in their current version only.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any

from pydantic import ValidationError

from firstpull.base.clock import moment, stamp
from firstpull.base.errors import FirstpullError, InputError, ManyErrors
from firstpull.workshop import bodies

Upcast = Callable[[dict[str, Any]], dict[str, Any]]
LONGEST_ID = 200
LARGEST_BODY = 1_000_000  # bytes of JSON; judgement: forty times the longest advice seen


@dataclass(frozen=True, slots=True)
class Event:
    """One act on one job. `seq` counts from 1 in the job and is given by the storage (0 = not stored).

    `act_id` is made by whoever acts and makes sending twice harmless; several events may share one when they
    are appended together. `based_on` is the last `seq` the actor had seen.
    """

    job: str
    seq: int
    act_id: str
    based_on: int
    kind: str
    version: int
    at: str
    by: str
    body: Mapping[str, Any]

    @property
    def when(self) -> str:
        """When it happened: the body's own word if it was entered late, else when it was written."""
        told = self.body.get("when")
        return told if isinstance(told, str) and told else self.at


@dataclass(frozen=True)
class Kind:
    """One kind of event.

    Its current version, the shape of its body, and one upcast for each older version.
    """

    name: str
    body: type[bodies.Body]
    version: int = 1
    upcasts: Mapping[int, Upcast] = field(default_factory=dict)

    def __post_init__(self) -> None:
        missing = [number for number in range(1, self.version) if number not in self.upcasts]
        if missing:
            raise FirstpullError(
                f"no upcast from version {missing[0]}",
                f"kind {self.name}",
                "one upcast for each older version",
            )


def _registry(*kinds: Kind) -> Mapping[str, Kind]:
    return MappingProxyType({kind.name: kind for kind in kinds})


KINDS: Mapping[str, Kind] = _registry(
    Kind("opened", bodies.Opened),
    Kind("told", bodies.Told),
    Kind("reading", bodies.Reading),
    Kind("access", bodies.Access),
    Kind("repair", bodies.Repair),
    Kind("lent", bodies.Lent),
    Kind("note", bodies.Note),
    Kind("value", bodies.Value),
    Kind("part", bodies.Part),
    Kind("estimate", bodies.Estimate),
    Kind("approval", bodies.Approval),
    Kind("advised", bodies.Advised),
    Kind("rebased", bodies.Rebased),
    Kind("withdrawn", bodies.Withdrawn),
    Kind("stage", bodies.Stage),
    Kind("clock", bodies.Clock),
    Kind("proof", bodies.Proof),
    Kind("release", bodies.Release),
    Kind("handed-back", bodies.HandedBack),
    Kind("follow-up", bodies.FollowUp),
    Kind("comeback", bodies.Comeback),
    Kind("abandoned", bodies.Abandoned),
    Kind("erased", bodies.Erased),
    Kind("photo", bodies.Photo),
    Kind("photo-for-owner", bodies.PhotoForOwner),
)


def new_event(
    job: str, kind: str, body: Mapping[str, Any], *, by: str, at: str, act_id: str, based_on: int = 0
) -> Event:
    """A checked event in the current version of its kind, ready to be appended.

    Raises:
        FirstpullError: when an id, the moment or the body cannot be read; all faults at once.
    """
    version = KINDS[kind].version if kind in KINDS else 1
    return check(Event(job, 0, act_id, based_on, kind, version, at, by, body))


def is_known(event: Event, kinds: Mapping[str, Kind] = KINDS) -> bool:
    """Whether this program can fold the event (after `current`)."""
    kind = kinds.get(event.kind)
    return kind is not None and event.version == kind.version


def check(event: Event, kinds: Mapping[str, Kind] = KINDS) -> Event:
    """The event as it will be stored. The body of an unknown kind or of another version is taken as it is.

    Raises:
        FirstpullError: when an id, the moment or the body cannot be read; all faults at once.
    """
    faults = [*_faults_of_ids(event)]
    body = dict(event.body)
    kind = kinds.get(event.kind)
    if kind is not None and event.version == kind.version:
        try:
            model = kind.body.model_validate(body)
            body = model.model_dump(mode="json", exclude_unset=True, by_alias=True)
        except ValidationError as error:
            faults += [
                InputError(
                    one["msg"],
                    f"{event.kind}.{'.'.join(str(step) for step in one['loc'])}",
                    "see the kinds of event",
                )
                for one in error.errors(include_url=False)
            ]
    try:
        if len(canonical(body).encode("utf-8", "replace")) > LARGEST_BODY:
            faults.append(InputError("the body is too large", event.kind, f"at most {LARGEST_BODY} bytes"))
        written = stamp(moment(event.at))
    except (TypeError, ValueError, RecursionError) as error:
        faults.append(InputError(str(error), event.kind, "a UTC moment, and a body that JSON can hold"))
        written = event.at
    if faults:
        raise faults[0] if len(faults) == 1 else ManyErrors(faults)
    return replace(event, body=json.loads(canonical(body)), at=written)


def _faults_of_ids(event: Event) -> list[FirstpullError]:
    faults: list[FirstpullError] = []
    for name in ("job", "act_id", "kind", "by"):
        text = getattr(event, name)
        if not isinstance(text, str) or not text.strip() or len(text) > LONGEST_ID:
            faults.append(InputError(f"{text!r} cannot be used", name, f"1 to {LONGEST_ID} letters"))
        elif any(letter < " " or "\ud800" <= letter <= "\udfff" for letter in text):
            faults.append(InputError(f"{text!r} holds a sign that cannot be kept", name, "printable letters"))
    if event.based_on < 0 or event.version < 1:
        faults.append(InputError("a negative count", "based_on or version", "0 or more; versions from 1"))
    return faults


def current(event: Event, kinds: Mapping[str, Kind] = KINDS) -> Event:
    """The event in the current version of its kind; unknown and newer ones come back as they are."""
    kind = kinds.get(event.kind)
    if kind is None or event.version >= kind.version:
        return event
    body = dict(event.body)
    for version in range(event.version, kind.version):
        body = kind.upcasts[version](body)
    return replace(event, body=body, version=kind.version)


def listed(value: Any) -> list[str]:
    """The words of a field that should be a list, whatever it is; events are never refused when read."""
    if isinstance(value, str):
        return [value] if value else []
    return [str(item) for item in value if item] if isinstance(value, (list, tuple)) else []


def canonical(body: Mapping[str, Any]) -> str:
    """One text for one body: sorted keys, no spaces, no not-a-number, no half letters.

    Raises:
        ValueError: for a number that is not finite.
        TypeError: for something JSON cannot hold.
    """
    text = json.dumps(body, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    return text.encode("utf-8", "replace").decode("utf-8")


def as_line(event: Event) -> str:
    """The event as one line of JSON."""
    return canonical(
        {
            "job": event.job, "seq": event.seq, "act_id": event.act_id, "based_on": event.based_on,
            "kind": event.kind, "version": event.version, "at": event.at, "by": event.by,
            "body": dict(event.body),
        }
    )  # fmt: skip


def from_line(line: str) -> Event:
    """The event that `as_line` wrote.

    Raises:
        InputError: when the line is not such an event.
    """
    try:
        raw = json.loads(line)
        event = Event(
            str(raw["job"]), int(raw["seq"]), str(raw["act_id"]), int(raw["based_on"]), str(raw["kind"]),
            int(raw["version"]), str(raw["at"]), str(raw["by"]), dict(raw["body"]),
        )  # fmt: skip
    except (ValueError, KeyError, TypeError) as error:
        raise InputError(f"not an event: {error}", line[:60], "one event a line, as the export writes it") from error
    return event

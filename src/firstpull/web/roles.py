"""Who may do what: the one table of roles, acts and addresses. What stands in no line of it, nobody else may."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

FORM_BYTES = 64_000
PICTURE_BYTES = 15_500_000  # the picture itself and what a form adds to it


class Role(StrEnum):
    """What a screen stands for."""

    OWNER = "owner"
    BENCH = "bench"
    COUNTER = "counter"
    LEARNER = "learner"
    INSTRUCTOR = "instructor"


SCHOOL_ROLES = frozenset({Role.LEARNER, Role.INSTRUCTOR})
# As they are read on the pages; the owner of a machine is somebody else.
ROLE_NAMES = {
    Role.OWNER: "shop owner", Role.BENCH: "bench", Role.COUNTER: "counter", Role.LEARNER: "learner",
    Role.INSTRUCTOR: "instructor",
}


class Act(StrEnum):
    """What can be done on the pages and under `/api/`."""

    PAIR = "pair"
    LOOK = "look"
    SCREEN = "screen"
    TAKE_IN = "take-in"
    HAND_BACK = "hand-back"
    ESTIMATE = "estimate"
    APPROVE_OVER = "approve-over"
    READ = "read"
    REPAIR = "repair"
    TELL = "tell"
    UNDO = "undo"
    NOTE = "note"
    KIND = "kind"
    TOOL = "tool"
    CLOCK = "clock"
    PICTURE = "picture"
    PART = "part"
    ROUND = "round"
    CAUSE = "cause"
    RELEASE = "release"
    PRINT = "print"
    REASON = "reason"
    SETTINGS = "settings"
    DEVICES = "devices"
    CODE = "code"
    PROPOSE = "propose"
    INSTRUCT = "instruct"


_EVERYBODY = frozenset({Act.PAIR, Act.LOOK, Act.SCREEN, Act.NOTE, Act.TELL, Act.REASON, Act.CLOCK, Act.PICTURE})
_AT_THE_MACHINE = _EVERYBODY | {Act.READ, Act.REPAIR, Act.UNDO, Act.KIND}
_BENCH = _AT_THE_MACHINE | {Act.TOOL, Act.RELEASE, Act.PRINT, Act.PART, Act.ROUND, Act.CAUSE}
MAY: dict[Role, frozenset[Act]] = {
    Role.OWNER: frozenset(Act),
    Role.BENCH: _BENCH,
    Role.COUNTER: _EVERYBODY | {Act.TAKE_IN, Act.HAND_BACK, Act.ESTIMATE, Act.KIND, Act.PRINT, Act.PART, Act.CAUSE},
    Role.LEARNER: _AT_THE_MACHINE | {Act.PROPOSE},
    Role.INSTRUCTOR: _BENCH | {Act.INSTRUCT},
}
# The words of a refusal: "A counter screen may not <words>."
WORDS: dict[Act, str] = {
    Act.PAIR: "pair", Act.LOOK: "look", Act.SCREEN: "set how it looks", Act.TAKE_IN: "take machines in",
    Act.HAND_BACK: "hand machines back", Act.ESTIMATE: "keep what the customer said to an estimate",
    Act.APPROVE_OVER: "agree to more than the agreed sum", Act.READ: "enter readings", Act.REPAIR: "enter repairs",
    Act.TELL: "enter what was told", Act.UNDO: "withdraw what was entered", Act.NOTE: "write notes",
    Act.KIND: "say which kind of machine it is", Act.TOOL: "say which instruments are missing",
    Act.CLOCK: "use the clock", Act.PICTURE: "take pictures", Act.PART: "order and book parts",
    Act.ROUND: "enter a repair on several machines", Act.CAUSE: "say why a machine came back",
    Act.RELEASE: "release machines", Act.PRINT: "print sheets", Act.REASON: "ask for reasoning",
    Act.SETTINGS: "change the shop's settings and prices", Act.DEVICES: "see and revoke devices",
    Act.CODE: "let a device in", Act.PROPOSE: "ask for an instructor's release",
    Act.INSTRUCT: "release what a learner asked for",
}


@dataclass(frozen=True, slots=True)
class Entry:
    """What an address is for: one of these acts is needed.

    `here`: at the bench screen only. `names`: what it answers names people. `unpaired`: before pairing too.
    """

    acts: frozenset[Act]
    here: bool = False
    names: bool = False
    unpaired: bool = False
    largest: int = FORM_BYTES


def _for(
    *acts: Act, here: bool = False, names: bool = False, unpaired: bool = False, largest: int = FORM_BYTES
) -> Entry:
    return Entry(frozenset(acts), here, names, unpaired, largest)


# Where several acts stand beside an address, the page asks for the one that the form is about.
TABLE: dict[str, Entry] = {
    "GET /static": _for(Act.LOOK, unpaired=True),
    "GET /vendor": _for(Act.LOOK),
    "GET /pair": _for(Act.PAIR, unpaired=True),
    "POST /pair": _for(Act.PAIR, unpaired=True),
    "GET /": _for(Act.LOOK),
    "GET /take-in": _for(Act.TAKE_IN),
    "POST /take-in": _for(Act.TAKE_IN),
    "GET /job/{job}": _for(Act.LOOK),
    "GET /job/{job}/news": _for(Act.LOOK),
    "GET /job/{job}/did": _for(Act.READ, Act.REPAIR),
    "GET /job/{job}/check/{name}": _for(Act.LOOK),
    "GET /job/{job}/repair/{name}": _for(Act.LOOK),
    "GET /job/{job}/strip/{check}": _for(Act.LOOK),
    "POST /job/{job}/step": _for(Act.READ, Act.REPAIR, Act.TELL),
    "POST /job/{job}/undo": _for(Act.UNDO),
    "POST /job/{job}/note": _for(Act.NOTE),
    "POST /job/{job}/kind": _for(Act.KIND),
    "POST /job/{job}/tool": _for(Act.TOOL),
    "GET /job/{job}/owner": _for(Act.LOOK),
    "POST /job/{job}/owner": _for(Act.ESTIMATE),
    "GET /job/{job}/release": _for(Act.LOOK),
    "POST /job/{job}/release": _for(Act.REPAIR, Act.RELEASE, Act.HAND_BACK),
    "GET /job/{job}/paper": _for(Act.PRINT, names=True),
    "GET /job/{job}/chart": _for(Act.PRINT, names=True),
    "GET /job/{job}/paper/{kind}": _for(Act.PRINT, names=True),
    "GET /job/{job}/bill": _for(Act.LOOK),
    "POST /job/{job}/clock": _for(Act.CLOCK),
    "GET /job/{job}/history": _for(Act.LOOK),
    "POST /job/{job}/history": _for(Act.CAUSE),
    "GET /parts": _for(Act.PART),
    "GET /job/{job}/parts": _for(Act.LOOK),
    "POST /job/{job}/parts": _for(Act.PART),
    "GET /job/{job}/pictures": _for(Act.LOOK),
    "POST /job/{job}/pictures": _for(Act.PICTURE, largest=PICTURE_BYTES),
    "POST /job/{job}/pictures/away": _for(Act.UNDO),
    "POST /job/{job}/pictures/owner": _for(Act.PICTURE),
    "GET /job/{job}/pictures/{key}": _for(Act.LOOK),
    "GET /rounds": _for(Act.ROUND),
    "POST /rounds": _for(Act.ROUND),
    "POST /job/{job}/ask": _for(Act.PROPOSE),
    "POST /job/{job}/free": _for(Act.INSTRUCT),
    "GET /asked": _for(Act.INSTRUCT, Act.PROPOSE),
    "GET /settings": _for(Act.SCREEN),
    "POST /settings": _for(Act.SCREEN, Act.SETTINGS),
    "GET /devices": _for(Act.DEVICES),
    "POST /devices/code": _for(Act.CODE, here=True),
    "POST /devices/revoke": _for(Act.DEVICES),
    "GET /handbook/": _for(Act.LOOK),
    "GET /handbook/index.html": _for(Act.LOOK),
    "GET /handbook/machines": _for(Act.LOOK),
    "GET /handbook/{file}": _for(Act.LOOK),
    "GET /api/openapi.json": _for(Act.LOOK),
    "POST /api/reason": _for(Act.REASON),
    "GET /api/handbook/{kind}": _for(Act.LOOK),
    "GET /api/jobs/{job}": _for(Act.LOOK),
    "POST /api/jobs/{job}/steps": _for(Act.READ, Act.REPAIR, Act.TELL),
}
# Whole folders of files; everything else is met exactly.
FOLDERS = frozenset({"GET /static", "GET /vendor"})


@cache
def _patterns() -> tuple[tuple[str, re.Pattern[str], Entry], ...]:
    """The table as patterns, those that leave least open first."""
    found = []
    for line, entry in sorted(TABLE.items(), key=lambda pair: pair[0].count("{")):
        method, _, path = line.partition(" ")
        pieces = re.split(r"\{\w+\}", path)
        rest = r"/.*" if line in FOLDERS else ""
        found.append((method, re.compile("[^/]+".join(map(re.escape, pieces)) + rest, re.DOTALL), entry))
    return tuple(found)


def entry_for(method: str, path: str) -> Entry | None:
    """The line of the table for a request; None when there is none."""
    wanted = "GET" if method == "HEAD" else method
    return next((e for m, pattern, e in _patterns() if m == wanted and pattern.fullmatch(path)), None)


def may(role: Role | None, act: Act) -> bool:
    """Whether a role may do an act; without a role there is only pairing."""
    return act is Act.PAIR if role is None else act in MAY[role]

"""From a posted form to plain words: once, with every field a single text."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends
from starlette.requests import Request

from firstpull.base.errors import InputError
from firstpull.web.viewer import viewer_of

LONGEST_FIELD = 4000
MOST_FIELDS = 400


async def read_form(request: Request) -> dict[str, str]:
    """The fields of a form, each as one text; what was sent several times is one line each.

    Raises:
        InputError: a field is a file, too long, or holds what no hand types.
    """
    found: dict[str, str] = {}
    form = await request.form(max_files=0, max_fields=MOST_FIELDS)
    for key, value in form.multi_items():
        if not isinstance(value, str) or len(value) > LONGEST_FIELD or len(key) > 100:
            raise InputError("not a text of bearable length", key[:40], f"at most {LONGEST_FIELD} letters")
        if "\x00" in value or any("\ud800" <= letter <= "\udfff" for letter in value):
            raise InputError("not a text", key[:40], "letters and figures")
        found[key] = f"{found[key]}\n{value}" if key in found else value
    return found


Fields = Annotated[dict[str, str], Depends(read_form)]


def many(fields: dict[str, str], key: str) -> list[str]:
    """All that was chosen under one name."""
    return [line for line in fields.get(key, "").split("\n") if line]


def whole(fields: dict[str, str], key: str) -> int:
    """A whole number from a hidden field; what is missing or odd counts as nothing seen."""
    text = fields.get(key, "0")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 12 else 0


def act_of(fields: dict[str, str]) -> str:
    """The id of the act that a form stands for.

    Raises:
        InputError: the form brings none.
    """
    act = fields.get("act", "")
    if not act or len(act) > 100 or not act.isprintable():
        raise InputError("no act id", "act", "the hidden field of the form")
    return act


def own_name(request: Request) -> str:
    """The name that the hand at this screen gave itself."""
    name = request.cookies.get("who", "bench")
    return name if name.isprintable() and 0 < len(name) <= 40 else "bench"


def who(request: Request) -> str:
    """Who did it, as the record keeps it; a device is named with its role, whatever name its hand gave itself."""
    name = own_name(request)
    viewer = viewer_of(request)
    if viewer.here:
        return name
    own = "" if name == "bench" else name.replace("(", "").replace(")", "").strip()
    return f"{own} ({viewer.called})" if own else viewer.called

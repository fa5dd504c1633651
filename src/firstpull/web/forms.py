"""From a posted form to plain words: once, with every field a single text."""

from __future__ import annotations

from starlette.requests import Request

from firstpull.base.errors import InputError

LONGEST_FIELD = 4000


async def read_form(request: Request) -> dict[str, str]:
    """The fields of a form, each as one text.

    Raises:
        InputError: a field is a file or too long.
    """
    found: dict[str, str] = {}
    for key, value in (await request.form()).multi_items():
        if not isinstance(value, str) or len(value) > LONGEST_FIELD or len(key) > 100:
            raise InputError("not a text of bearable length", key[:40], f"at most {LONGEST_FIELD} letters")
        found[key] = f"{found[key]}\n{value}" if key in found else value
    return found


def whole(fields: dict[str, str], key: str) -> int:
    """A whole number from a hidden field; what is missing or odd counts as nothing seen."""
    text = fields.get(key, "0")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 12 else 0


def who(request: Request) -> str:
    """Who is at the bench."""
    name = request.cookies.get("who", "bench")
    return name if name.isprintable() and 0 < len(name) <= 40 else "bench"

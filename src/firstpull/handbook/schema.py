"""One entry from raw TOML to a frozen model, or everything that is wrong with it in plain words."""

from __future__ import annotations

import functools
import json
import math
import types
import typing
from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from firstpull.handbook.entries import Chapter
from firstpull.handbook.findings import Finding, Key, nearest

# Kind of entry, as the name of its array of tables in TOML, to its model.
MODELS: dict[str, type[BaseModel]] = {
    name: typing.get_args(field.annotation)[0]
    for name, field in Chapter.model_fields.items()
    if field.annotation is not str
}
CHAPTER_WORDS = tuple(name for name in Chapter.model_fields if name not in MODELS)


def read_entry(kind: str, raw: Mapping[str, object]) -> tuple[BaseModel | None, list[Finding]]:
    """The entry, or None and all that is wrong with it."""
    entry_id = raw.get("id")
    name = entry_id if isinstance(entry_id, str) else ""
    try:
        # By way of JSON, because only there may an array become a tuple while a word may not become a number.
        return MODELS[kind].model_validate_json(json.dumps(raw, default=_foreign), strict=True), []
    except ValidationError as error:
        details = error.errors(include_url=False)
        if any(detail["type"] == "json_invalid" for detail in details):
            return None, [_unreadable(kind, name)]
        places = {detail["loc"] for detail in details}
        # An array whose elements are wrong is also called too short; the elements say it better.
        within = {place[:end] for place in places for end in range(1, len(place))}
        return None, [_finding(kind, name, raw, detail) for detail in details if detail["loc"] not in within]
    except (ValueError, RecursionError):
        return None, [_unreadable(kind, name)]


def _unreadable(kind: str, name: str) -> Finding:
    return Finding(kind, name, (), "it cannot be read", "plain words, numbers, arrays and tables, not nested deep")


def _foreign(value: object) -> object:
    return {"a date or time": str(value)}  # no key takes one; a table is refused wherever a word or number is due


def _finding(kind: str, name: str, raw: Mapping[str, object], detail: ErrorDetails) -> Finding:
    key = _real_key(raw, detail["loc"], detail["type"])
    what, right = _in_words(kind, key, detail)
    return Finding(kind, name, key, what, right)


def _real_key(raw: object, loc: Key, error: str) -> Key:
    """The path without the marks that a union or a key of a table adds; a missing key stays at its end."""
    key: list[str | int] = []
    here = raw
    for part in loc:
        inner = _inside(here, part)
        if inner is None and not (error == "missing" and part == loc[-1]):
            continue
        here = inner
        key.append(part)
    return tuple(key)


def _inside(value: object, part: str | int) -> object | None:
    if isinstance(value, Mapping):
        return value.get(part)
    return value[part] if isinstance(value, list) and isinstance(part, int) and part < len(value) else None


def _in_words(kind: str, key: Key, detail: ErrorDetails) -> tuple[str, str]:
    last = key[-1] if key else ""
    context: dict[str, Any] = detail.get("ctx", {})
    found = _shown(detail["input"])
    match detail["type"]:
        case "extra_forbidden":
            return f"unknown key '{last}'", nearest(str(last), known_keys(kind, key[:-1]))
        case "missing":
            return f"'{last}' is missing", f"every {_place(kind, key[:-1])} says its {last}"
        case "string_pattern_mismatch":
            return f"{found} is not an id", "lower-case words joined by hyphens"
        case "literal_error":
            words = context.get("expected", "").replace("'", "").replace(" or ", ", ").split(", ")
            return f"{found} is not one of the words for this", "one of " + ", ".join(words)
        case "value_error":
            return str(context.get("error", detail["msg"])), f"as the form of a {_place(kind, key)} asks"
    return f"{found} was found", _wanted(detail["type"], context)


def _wanted(error: str, context: Mapping[str, Any]) -> str:
    bounds = {
        "greater_than_equal": "{ge} or more",
        "less_than_equal": "{le} or less",
        "greater_than": "more than {gt}",
        "less_than": "less than {lt}",
        "string_too_long": "at most {max_length} characters",
        "string_too_short": "at least {min_length} character",
        "too_short": "at least {min_length} of them",
        "too_long": "at most {max_length} of them",
    }
    if error in bounds:
        return bounds[error].format_map({name: _number(value) for name, value in context.items()})
    kinds = {
        "string_type": "a word or sentence in quotes",
        "float_type": "a number",
        "int_type": "a whole number",
        "int_from_float": "a whole number",
        "bool_type": "true or false",
        "tuple_type": "an array in brackets",
        "dict_type": "a table of keys and values",
        "model_type": "a table of keys and values",
        "model_attributes_type": "a table of keys and values",
        "finite_number": "a finite number",
    }
    return kinds.get(error, error.replace("_", " "))


def _number(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) and math.isfinite(value) else str(value)


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        text = f"'{value}'"
    elif isinstance(value, dict):
        text = "a date or time" if list(value) == ["a date or time"] else "a table"
    elif isinstance(value, list):
        text = "an array"
    else:
        text = "nothing" if value is None else _number(value)
    return text if len(text) <= 60 else text[:57] + "...'"


def _place(kind: str, key: Key) -> str:
    names = [part for part in key if isinstance(part, str)]
    return " ".join([kind, *names])


def known_keys(kind: str, key: Key) -> tuple[str, ...]:
    """The keys that a table of an entry may have; `key` leads from the entry to the table."""
    return _keys().get((kind, *(part for part in key if isinstance(part, str))), ())


@functools.cache
def _keys() -> dict[tuple[str, ...], tuple[str, ...]]:
    found: dict[tuple[str, ...], tuple[str, ...]] = {}

    def walk(path: tuple[str, ...], model: type[BaseModel]) -> None:
        fields = {field.alias or name: field for name, field in model.model_fields.items()}
        found[path] = tuple(fields)
        for name, field in fields.items():
            for inner in _models_in(field.annotation):
                walk((*path, name), inner)

    for kind, model in MODELS.items():
        walk((kind,), model)
    return found


def _models_in(annotation: object) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and not isinstance(annotation, types.GenericAlias):
        return [annotation] if issubclass(annotation, BaseModel) else []
    return [model for inner in typing.get_args(annotation) for model in _models_in(inner)]

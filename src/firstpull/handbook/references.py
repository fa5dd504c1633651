"""Which key of which kind of entry names what. One table, so that nobody has to look for it in code."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from pydantic import BaseModel

from firstpull.engine.vocabulary import PARAMETERS, SIZES, TOKENS
from firstpull.engine.vocabulary.types import DRIVES
from firstpull.handbook.book import SHELVES, Book
from firstpull.handbook.findings import Finding, Key, nearest

# A path leads through fields: `[]` steps into every element, `{}` takes the keys of a table, `{}:` what they lead to.
REFERENCES: dict[str, tuple[tuple[str, str], ...]] = {
    "fault": (
        ("draws[].parameter", "parameter"),
        ("told{}", "told"),
        ("brings[]", "fault"),
        ("rate{}", "machine class or default"),
        ("only{}", "trait"),
    ),
    "check": (
        ("instrument", "instrument"),
        ("needs.off[]", "access"),
        ("needs.on[]", "access"),
        ("wants.off[]", "access"),
        ("wants.on[]", "access"),
        ("varies[]", "access"),
        ("safer[]", "check"),
        ("cautions[]", "caution"),
        ("drives[]", "drive of an engine"),
        ("readings[].spec", "spec of any machine"),
        ("only{}", "trait"),
    ),
    "repair": (
        ("cures[]", "fault"),
        ("besides[]", "fault"),
        ("renews[]", "parameter"),
        ("needs.off[]", "access"),
        ("needs.on[]", "access"),
        ("values[].spec", "spec of any machine"),
        ("proof.check", "check"),
        ("after[]", "check"),
        ("instead{}", "check"),
        ("instead{}:", "repair"),
        ("cautions[]", "caution"),
        ("only{}", "trait"),
    ),
    "access": (
        ("tokens[]", "token"),
        ("first.off[]", "access"),
        ("first.on[]", "access"),
        ("by_class{}", "machine class"),
        ("cautions[]", "caution"),
        ("only{}", "trait"),
    ),
    "drive": (
        ("needs.off[]", "access"),
        ("needs.on[]", "access"),
        ("cautions[]", "caution"),
        ("only{}", "trait"),
    ),
    "complaint": (("only{}", "trait"),),
    "told": (("only{}", "trait"),),
    "release": (
        ("check", "check"),
        ("spec", "spec of any machine"),
        ("after_parts[]", "part that is worked on"),
        ("only{}", "trait"),
    ),
    "machine": (("sizes{}", "size"), ("healthy[].parameter", "parameter")),
}
_TOML = {"readings": "reading", "specs": "spec", "start": "from"}


def errors(book: Book) -> Iterator[Finding]:
    """Every reference that leads nowhere, with the nearest name that would be right."""
    known = _known(book)
    for kind, references in REFERENCES.items():
        for name, entry in book.shelf(kind).items():
            for path, target in references:
                for key, word in named(entry, path):
                    if word not in known[target]:
                        yield dangling(kind, name, key, word, target, known[target])


def dangling(kind: str, name: str, key: Key, word: str, target: str, known: Mapping[str, object] | set[str]) -> Finding:
    """The finding for a word that names nothing."""
    article = "an" if target[0] in "aeio" else "a"
    return Finding(kind, name, key, f"'{word}' is not {article} {target}", nearest(word, known))


def named(entry: BaseModel, path: str) -> Iterator[tuple[Key, str]]:
    """The words of an entry at a path of the table, each with its key."""
    yield from _walk(entry, path.split("."), ())


def _walk(value: object, steps: list[str], key: Key) -> Iterator[tuple[Key, str]]:
    if not steps:
        if isinstance(value, str):
            yield key, value
        return
    step = steps[0]
    field = step.removesuffix(":").removesuffix("[]").removesuffix("{}")
    inner = getattr(value, field)
    here = (*key, _TOML.get(field, field))
    if step.endswith("[]"):
        for index, element in enumerate(inner):
            yield from _walk(element, steps[1:], (*here, index))
    elif step.endswith("{}"):
        for word in inner:
            yield (*here, word), word
    elif step.endswith("{}:"):
        for word, other in inner.items():
            yield (*here, word), other
    elif inner is not None:
        yield from _walk(inner, steps[1:], here)


def _known(book: Book) -> dict[str, set[str]]:
    known = {kind: set(book.shelf(kind)) for kind in SHELVES}
    known["parameter"] = set(PARAMETERS)
    known["size"] = set(SIZES)
    known["trait"] = {size.id for size in SIZES.values() if isinstance(size.default, str)}
    known["token"] = set(TOKENS)
    known["machine class"] = known["machine"]
    known["machine class or default"] = known["machine"] | {"default"}
    known["drive of an engine"] = {str(drive) for drive in DRIVES} - {"none", "running"}
    known["spec of any machine"] = {spec.id for machine in book.machines.values() for spec in machine.specs}
    known["part that is worked on"] = {repair.part for repair in book.repairs.values()}
    return known

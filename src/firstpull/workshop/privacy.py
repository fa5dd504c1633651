"""What could name a person leaves the event before it is stored, and comes back when it is read.

Events are kept for ever and never rewritten; names and free words must be forgettable. So the private fields
of a body are stored beside the event, and after an erasure the event is still whole: it says that words were
here.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from firstpull.workshop.events import KINDS, Event, listed

MARK = "_private"
GONE = "_erased"


def split(event: Event) -> tuple[dict[str, Any], dict[str, Any]]:
    """The body to keep for ever, and the fields to keep apart.

    What this version cannot read is private whole.
    """
    body = {key: value for key, value in event.body.items() if key not in (MARK, GONE)}
    gone = listed(event.body.get(GONE))
    kind = KINDS.get(event.kind)
    if kind is None or kind.version != event.version:
        apart = set(body)
    elif kind.body.tool_made:
        apart = set()
    else:
        declared = {shape.alias or name for name, shape in kind.body.model_fields.items()}
        apart = {key for key in body if key in kind.body.private or key not in declared}
    kept = {key: value for key, value in body.items() if key not in apart}
    if apart:
        kept[MARK] = sorted(apart)
    if gone:
        kept[GONE] = sorted(set(gone) - apart)
    return kept, {key: body[key] for key in sorted(apart)}


def join(kept: Mapping[str, Any], private: Mapping[str, Any]) -> dict[str, Any]:
    """The body as it was written; what was erased is named under `_erased`."""
    body = dict(kept)
    names = listed(body.pop(MARK, []))
    gone = [*listed(body.pop(GONE, [])), *(name for name in names if name not in private)]
    body.update((name, private[name]) for name in names if name in private)
    if gone:
        body[GONE] = sorted(set(gone))
    return body

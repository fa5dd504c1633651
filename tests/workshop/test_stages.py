"""The stage that an act implies."""

from __future__ import annotations

from typing import Any

import pytest

from firstpull.workshop.events import Event
from firstpull.workshop.stages import STAGES, implied_stage


@pytest.mark.parametrize(
    ("kind", "body", "now", "then"),
    [
        ("opened", {}, "booked", "received"),
        ("opened", {"comeback_of": "J1"}, "received", "comeback"),
        ("reading", {}, "received", "finding"),
        ("reading", {}, "on-bench", "on-bench"),
        ("estimate", {}, "finding", "estimate-sent"),
        ("approval", {"to": "find", "yes": True}, "received", "finding"),
        ("approval", {"to": "mend", "yes": True}, "estimate-sent", "approved"),
        ("approval", {"to": "mend", "yes": False}, "estimate-sent", "declined"),
        ("approval", {"to": "instructor", "yes": True}, "on-bench", "on-bench"),
        ("part", {"state": "ordered"}, "approved", "parts-ordered"),
        ("part", {"state": "arrived"}, "parts-ordered", "parts-in"),
        ("part", {"state": "returned"}, "on-bench", "on-bench"),
        ("repair", {}, "parts-in", "on-bench"),
        ("repair", {}, "finding", "finding"),
        ("proof", {}, "on-bench", "proving"),
        ("release", {}, "proving", "ready"),
        ("handed-back", {}, "ready", "handed-back"),
        ("comeback", {}, "handed-back", "comeback"),
        ("abandoned", {"step": "notice"}, "called", "notice-sent"),
        ("abandoned", {"step": "disposed"}, "notice-sent", "disposed"),
        ("abandoned", {"step": "held"}, "notice-sent", "notice-sent"),
        ("stage", {"stage": "unsafe-held"}, "ready", "unsafe-held"),
        ("note", {}, "ready", "ready"),
    ],
)
def test_acts_move_the_stage(kind: str, body: dict[str, Any], now: str, then: str) -> None:
    event = Event("J1", 1, "a", 0, kind, 1, "2026-04-11T09:00:00.000Z", "sam", body)
    assert implied_stage(event, now) == then
    assert then in STAGES

"""Whether whoever asks is a learner who must ask an instructor first."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from firstpull.bench.schooling import HAZARDS, is_free, waits_for
from firstpull.bench.shop import Shop
from firstpull.web.roles import Role
from firstpull.web.viewer import Viewer


def must_ask(shop: Shop, viewer: Viewer, job: str, step: Mapping[str, Any]) -> str:
    """The hazard for which a learner must wait for an instructor now, in words; empty when there is none."""
    if viewer.role is not Role.LEARNER:
        return ""
    hazard = waits_for(shop, step)
    return HAZARDS[hazard] if hazard and not is_free(shop, job, step) else ""

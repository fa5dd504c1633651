"""What many tests share: the shipped handbook and populations made from it once."""

from __future__ import annotations

import pytest
from hypothesis import settings

from firstpull.bench.worldroom import WorldRoom, open_room
from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.book import Book
from firstpull.reasoning.worlds import Worlds

settings.register_profile("firstpull", deadline=None, derandomize=True, max_examples=60)
settings.load_profile("firstpull")


@pytest.fixture(scope="session")
def room() -> WorldRoom:
    """The shipped handbook with its populations."""
    return open_room()


@pytest.fixture(scope="session")
def book(room: WorldRoom) -> Book:
    """The shipped handbook."""
    return room.book


@pytest.fixture(scope="session")
def mower(room: WorldRoom) -> Worlds:
    """The population of an overhead-valve walk-behind mower on a usual day."""
    return room.worlds("walk-mower-ohv", Conditions())

"""Puts a workshop together from a data folder: the only place that knows how the record is kept."""

from __future__ import annotations

import os
from pathlib import Path

from firstpull.base.errors import StorageError
from firstpull.bench.shop import Shop
from firstpull.bench.worldroom import open_room
from firstpull.workshop.storage import open_store

DATA_VARIABLE = "FIRSTPULL_DATA"
DATABASE_VARIABLE = "FIRSTPULL_DATABASE"


def data_folder(given: Path | None = None) -> Path:
    """Where the workshop's data lie: as given, as the environment says, or a folder of the user's own."""
    if given is not None:
        return given
    named = os.environ.get(DATA_VARIABLE)
    return Path(named) if named else Path.home() / ".local" / "share" / "firstpull"


def open_shop(folder: Path, database: str | None = None, demo: bool = False) -> Shop:
    """Open the workshop in a folder, making what is missing.

    Raises:
        FirstpullError: the folder cannot be used, a chapter is wrong, or the record is damaged.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        what = f"the data folder cannot be made [{error.strerror}]"
        raise StorageError(what, str(folder), "a folder in which this user may write") from error
    room = open_room(folder / "chapters", shelf=folder / "predictions")
    place = database or os.environ.get(DATABASE_VARIABLE) or str(folder / "record.sqlite")
    return Shop(open_store(place), room, demo=demo)

"""The record as files: backup and restore, out and in as plain lines, forgetting a person, and a check of it all."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from firstpull.base.clock import stamp
from firstpull.base.errors import InputError
from firstpull.bench.shop import Shop
from firstpull.workshop.port import Copy, Health, Salvaged


def back_up(shop: Shop, path: Path) -> Copy:
    """Write the whole record to one file while work goes on; it is checked before it gets its name.

    Raises:
        StorageError: it cannot be written; an older backup of that name is then still there.
    """
    return shop.store.backup(path)


def restore(shop: Shop, path: Path) -> Copy:
    """Replace the record by a backup after checking it; whoever was erased since stays erased.

    Raises:
        StorageError: the backup is missing, damaged or of a newer program; the record is then as it was.
    """
    done = shop.store.restore(path)
    shop.forget_live()
    return done


def export(shop: Shop, path: Path, *, names: bool = True, table: bool = False) -> int:
    """Write everything as JSON Lines, or one row a job as a table; without names only engine facts.

    Returns the lines or rows written. The table never names anybody.

    Raises:
        StorageError: the file cannot be written.
    """
    return shop.store.export_csv(path) if table else shop.store.export_lines(path, names=names)


def take_over(shop: Shop, path: Path) -> int:
    """Read what `export` wrote as lines; what is already here stays. Returns the events added.

    Raises:
        FirstpullError: the file or a line of it cannot be read; nothing is taken over then.
    """
    added = shop.store.import_lines(path)
    shop.forget_live()
    return added


def salvage(shop: Shop, damaged: Path) -> Salvaged:
    """Bring over from a damaged record whatever can be read and is not here yet.

    Raises:
        StorageError: nothing in it can be read.
    """
    found = shop.store.salvage(damaged)
    shop.forget_live()
    return found


def people(shop: Shop, text: str) -> tuple[tuple[str, Mapping[str, Any]], ...]:
    """People in whose fields every word of the text begins some word, with the ids by which they are forgotten."""
    return shop.store.find_people(text)


def erase(shop: Shop, person: str, *, by: str) -> tuple[str, ...]:
    """Forget a person for ever: names, contacts, free words and photos of their jobs; engine facts stay.

    Returns the jobs that were theirs. Erasing once more does nothing more.

    Raises:
        InputError: nobody of that id was ever kept here.
    """
    known = shop.store.get_person(person) is not None or bool(shop.store.jobs(person=person, limit=1))
    if not known:
        raise InputError(f"nobody is kept as '{person}'", "person", "an id from: firstpull record people NAME")
    jobs = shop.store.erase_person(person, by=by, at=stamp(shop.clock()))
    shop.forget_live()
    return jobs


def check(shop: Shop) -> Health:
    """Read the whole record and report every fault.

    Raises:
        StorageError: it cannot be read at all.
    """
    return shop.store.check()

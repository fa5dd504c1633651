"""Who was erased, also beside the files: an older backup must not bring anybody back.

The list holds random ids only. It lies beside the record and beside every backup, one id a line.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from pathlib import Path

from firstpull.base.errors import StorageError

NAME = "erased.jsonl"


def note_erasure(folders: Iterable[Path], person: str, at: str) -> None:
    """Add the id to the list in each folder that still exists, on the disk before this returns.

    Raises:
        StorageError: when a list cannot be written.
    """
    for folder in sorted(set(folders)):
        if not folder.is_dir():
            continue
        try:
            with open(folder / NAME, "a", encoding="utf-8") as file:
                # On a line of its own even after a line that was torn.
                file.write("\n" + json.dumps({"person": person, "at": at}) + "\n")
                file.flush()
                os.fsync(file.fileno())
        except OSError as error:
            raise StorageError(
                f"the erasure could not be noted [{error}]",
                str(folder / NAME),
                "make it writable, erase again",
            ) from error


def erased_beside(folder: Path) -> dict[str, str]:
    """The ids listed in a folder and when each was erased; a torn last line is left out.

    Raises:
        StorageError: when the list is there and cannot be read: restoring without it could bring people back.
    """
    try:
        text = (folder / NAME).read_text(encoding="utf-8")
    except FileNotFoundError:
        return {}
    except (OSError, UnicodeDecodeError) as error:
        raise StorageError(f"cannot be read [{error}]", str(folder / NAME), "make it readable") from error
    found: dict[str, str] = {}
    for line in text.splitlines():
        try:
            entry = json.loads(line)
            found[str(entry["person"])] = str(entry["at"])
        except (ValueError, KeyError, TypeError):
            continue
    return found

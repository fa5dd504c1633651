"""A copy of the whole record every day while the workshop is open, the newest fourteen kept."""

from __future__ import annotations

import threading
from pathlib import Path

from firstpull.base.errors import FirstpullError
from firstpull.bench.backup import back_up
from firstpull.bench.shop import Shop

KEPT = 14
EVERY_SECONDS = 3600.0
PATTERN = "record-*.backup"


def back_up_today(shop: Shop, folder: Path) -> Path | None:
    """Write today's copy into the folder unless it is there; the oldest beyond the kept ones go.

    Raises:
        StorageError: the copy could not be written; older ones are left as they are.
    """
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"record-{shop.clock():%Y-%m-%d}.backup"
    if path.exists():
        return None
    back_up(shop, path)
    for old in sorted(folder.glob(PATTERN))[:-KEPT]:
        old.unlink()
    return path


def keep_copies(shop: Shop, folder: Path, every: float = EVERY_SECONDS) -> threading.Event:
    """Look every hour, in the background, whether today's copy is there; set the event to stop.

    A copy that fails is tried again at the next look and noted in the folder; work goes on meanwhile.
    """
    stop = threading.Event()

    def watch() -> None:
        while not stop.is_set():
            try:
                back_up_today(shop, folder)
                (folder / "LAST-COPY-FAILED.txt").unlink(missing_ok=True)
            except (FirstpullError, OSError) as error:
                _note(folder, str(error))
            stop.wait(every)

    threading.Thread(target=watch, name="daily copy", daemon=True).start()
    return stop


def _note(folder: Path, words: str) -> None:
    """Leave a word beside the copies; where even that fails there is nowhere left to write."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "LAST-COPY-FAILED.txt").write_text(words + "\n", encoding="utf-8")
    except OSError:
        return

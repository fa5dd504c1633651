"""The demonstration: the tool library and repair bench of Harrow Vale, an invented town with invented people."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

from firstpull.bench.find import enter
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.release import return_unmended
from firstpull.bench.shop import Shop
from firstpull.bench.wiring import DATA_VARIABLE, open_shop

MARK = "HARROW-VALE-DEMO.txt"
DATA = Path(__file__).with_name("demo.toml")


def open_demo(folder: Path | None = None) -> tuple[Shop, Path]:
    """The demonstration workshop in its own folder, filled when it is new.

    Raises:
        FirstpullError: the folder cannot be used.
    """
    place = folder or Path(os.environ.get(DATA_VARIABLE) or Path.home() / ".local" / "share" / "firstpull-demo")
    shop = open_shop(place, demo=True)
    mark = place / MARK
    if not mark.exists() and not shop.store.jobs(limit=1):
        _fill(shop)
        mark.write_text("An invented workshop. Delete this folder to begin again.\n", encoding="utf-8")
    return shop, place


def _fill(shop: Shop) -> None:
    """A handful of jobs in different stages, as the data beside this file say."""
    told = tomllib.loads(DATA.read_text(encoding="utf-8"))
    by = str(told["by"])
    shop.store.put_setting("shop", told["shop"])
    for place, entry in enumerate(told["job"]):
        said = Counter(entry["who"], entry["number"], entry["complaint"], entry["limit"], entry["machine"],
                       tuple(entry.get("told", ())))
        job = take_in(shop, said, act_id=f"demo-in-{place}", by=by)
        for number, step in enumerate(entry.get("step", ())):
            seen = shop.record(job).last_seq
            enter(shop, job, step, act_id=f"demo-{place}-{number}", based_on=seen, by=by)
        if "returned" in entry:
            seen = shop.record(job).last_seq
            return_unmended(shop, job, entry["returned"], act_id=f"demo-back-{place}", based_on=seen, by=by)

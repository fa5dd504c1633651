"""The demonstration: the tool library and repair bench of Harrow Vale, an invented town with invented people."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from firstpull.base.clock import stamp
from firstpull.bench.find import enter
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.release import return_unmended
from firstpull.bench.shop import Shop
from firstpull.bench.wiring import DATA_VARIABLE, open_shop

MARK = "HARROW-VALE-DEMO.txt"
BY = "Wren"
PEOPLE = (
    Counter("Ada Fenwright", "0555 0101", "won't start", "80", "walk-mower-ohv"),
    Counter("Bram Oakley", "0555 0102", "kicks back, hit a root", "60", "walk-mower-ohv", ("struck-something",)),
    Counter("Cass Millrow", "0555 0103", "no spark, I think", "90", "walk-mower-sv"),
    Counter("Dov Harrow", "0555 0104", "just a service", "50", "walk-mower-ohv"),
    Counter("Elin Thatch", "0555 0105", "won't start", "40", "walk-mower-sv", ("stored-with-fuel",)),
)
HELD = {"access": "control-held", "state": "on"}
DARK = {"check": "spark-at-tester", "reading": "dark"}
# What has been done on each job already, by its place among the people.
DONE: dict[int, list[dict[str, Any]]] = {
    0: [HELD, DARK, {"access": "stop-lead", "state": "off"}],
    1: [HELD, {"check": "spark-at-tester", "reading": "lights"}],
    2: [HELD, DARK],
}


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
    """A handful of jobs in different stages."""
    jobs = [take_in(shop, said, act_id=f"demo-in-{i}", by=BY) for i, said in enumerate(PEOPLE)]
    for place, steps in DONE.items():
        for number, step in enumerate(steps):
            record = shop.record(jobs[place])
            act = f"demo-{place}-{number}"
            enter(shop, jobs[place], step, act_id=act, based_on=record.last_seq, by=BY)
    last = shop.record(jobs[4])
    return_unmended(shop, jobs[4], "Owner keeps it for parts.", act_id="demo-return", based_on=last.last_seq, by=BY)
    shop.store.put_setting("demo", {"filled": stamp(shop.clock())})

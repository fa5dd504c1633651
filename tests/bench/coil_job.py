"""A played job: a mower whose coil is dead, from the counter to the hand-back."""

from __future__ import annotations

import io
from itertools import count
from typing import Any

import pypdf

from firstpull.bench.approving import approve
from firstpull.bench.estimating import make_estimate
from firstpull.bench.find import enter, set_value
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.parting import PartSaid, part_step
from firstpull.bench.printing import print_sheet
from firstpull.bench.release import WithIt, door, hand_back, release_working
from firstpull.bench.shop import Shop

DARK = {"check": "spark-at-tester", "reading": "dark"}
FOUND = (
    {"access": "control-held", "state": "on"}, DARK, {"access": "stop-lead", "state": "off"}, DARK,
    {"check": "magnet-pull", "reading": "strong"}, {"check": "coil-feet-look", "reading": "clean"},
)
_acts = count(1)


def how(shop: Shop, job: str, by: str = "Wren") -> dict[str, Any]:
    """Who acts, on the newest version of a job."""
    return {"act_id": f"act-{next(_acts)}", "based_on": shop.record(job).last_seq, "by": by}


def put(shop: Shop, job: str, *steps: dict[str, Any]) -> None:
    """Enter these steps one after another."""
    for step in steps:
        enter(shop, job, step, **how(shop, job))


def taken_in(shop: Shop, **said: Any) -> str:
    """A mower that will not start, limit 80."""
    first = {"who": "Ada Fenwright", "number": "0555 0101", "complaint": "won't start", "limit": "80",
             "machine": "walk-mower-ohv"}
    return take_in(shop, Counter(**(first | said)), act_id=f"in-{next(_acts)}", by="Wren")


def found(shop: Shop, **said: Any) -> str:
    """The same with the coil as good as found: dark with the stop lead off."""
    job = taken_in(shop, **said)
    known = shop.room.book.checks
    put(shop, job, *(s for s in FOUND if s.get("check") in (None, *known) and _held(shop, s)))
    return job


def _held(shop: Shop, step: dict[str, Any]) -> bool:
    """Whether the handbook holds the outcome of a step."""
    check = shop.room.book.checks.get(step.get("check", ""))
    return check is None or any(step["reading"] == o.id for r in check.readings for o in r.outcomes)


def mended(shop: Shop, **said: Any) -> str:
    """The same with a new coil in, agreed up to 140, its gap written down."""
    job = found(shop, **said)
    make_estimate(shop, job, **how(shop, job))
    approve(shop, job, "mend", "Ada Fenwright", "140", "by telephone", **how(shop, job))
    part_step(shop, job, "ordered", PartSaid("coil", price="35", supplier="Vale Parts", proof="dark, stop lead off"),
              **how(shop, job))
    part_step(shop, job, "fitted", PartSaid("coil", number="HV-1180", condition="new"), **how(shop, job))
    put(shop, job, {"repair": "renew-coil"})
    set_value(shop, job, "air-gap", "0.27", "mm", **how(shop, job))
    return job


def prove(shop: Shop, job: str) -> None:
    """Pass every proof and put everything back as it was."""
    for proof in door(shop, job).proofs:
        wanted = shop.room.book.releases[proof.id]
        put(shop, job, {"check": proof.check, "reading": wanted.outcomes[0], "times": proof.times})
    live = shop.live(shop.record(job))
    assert live is not None
    for item in sorted(live.session.state.away):
        added = shop.room.book.access[item].added
        put(shop, job, {"access": item, "state": "off" if added else "on"})


def gone_home(shop: Shop, **said: Any) -> str:
    """The same proved, released and handed back."""
    job = mended(shop, **said)
    prove(shop, job)
    release_working(shop, job, {}, **how(shop, job))
    refused = ("The grass flap was missing.",)
    with_it = WithIt(paid="69,50", how_paid="in cash", old_parts=("old coil",), refused=refused)
    hand_back(shop, job, "Ada Fenwright", "0.4 litre, fresh today", with_it=with_it, **how(shop, job))
    return job


def words_on(shop: Shop, job: str, kind: str, paper: str = "a4") -> str:
    """All words of a printed sheet, one space between them."""
    pages = pypdf.PdfReader(io.BytesIO(print_sheet(shop, job, kind, paper))).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())

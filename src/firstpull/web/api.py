"""The same over HTTP: cases, plays, the handbook and the planner, as the command line gives them."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Body
from starlette.requests import Request

from firstpull.bench.case import read_case
from firstpull.bench.catalogue import listing
from firstpull.bench.find import enter, what_next
from firstpull.bench.stateless import effort_for, reason
from firstpull.web.forms import who
from firstpull.web.waiting import may_enter

JsonTable = Annotated[dict[str, Any], Body()]
router = APIRouter(tags=["bench"])
ERRORS: dict[int | str, dict[str, Any]] = {
    401: {"description": "This device is not paired."},
    403: {"description": "The role of this screen does not allow it."},
    429: {"description": "Too much at once; Retry-After says how long to wait."},
    422: {"description": "What was wrong, where, and what would be right."},
}


@router.post("/reason", responses=ERRORS)
def reason_case(
    request: Request, case: JsonTable, seconds: float | None = None, effort: int | None = None
) -> dict[str, Any]:
    """The answer to a case."""
    room = request.app.state.shop.room
    return reason(room, read_case(case, room.book), effort_for(seconds, effort))


@router.get("/handbook/{kind}", responses=ERRORS)
def handbook(request: Request, kind: str) -> list[dict[str, Any]]:
    """All entries of one kind."""
    return listing(request.app.state.shop.room.book, kind)


@router.get("/jobs/{job}", responses=ERRORS)
def job(request: Request, job: str) -> dict[str, Any]:
    """What is known and advised on a job."""
    return what_next(request.app.state.shop, job)


@router.post("/jobs/{job}/steps", responses=ERRORS)
def job_step(request: Request, job: str, act_id: str, step: JsonTable, based_on: int = 0) -> dict[str, Any]:
    """Enter one step on a job; sent twice it is kept once."""
    may_enter(request, job, step, act_id)
    shop = request.app.state.shop
    done = enter(shop, job, step, act_id=act_id, based_on=based_on, by=who(request))
    return {"kept": bool(done.stored), "waits": done.waits, "version": done.record.last_seq}

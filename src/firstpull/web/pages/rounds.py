"""Rounds: what to do meanwhile, and one step over several machines."""

from __future__ import annotations

from collections.abc import Sequence

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from firstpull.base.errors import FirstpullError, InputError
from firstpull.bench.pages.rounds import rounds_page
from firstpull.bench.rounds import do_round
from firstpull.web.forms import Fields, act_of, many, who
from firstpull.web.render import error_list, onward, sheet

router = APIRouter(include_in_schema=False)
MOST_JOBS = 40


@router.get("/rounds")
def show(request: Request, step: str = "") -> HTMLResponse:
    """What can be done meanwhile; with a step and machines, the order in which that round would go."""
    jobs = request.query_params.getlist("job")[:MOST_JOBS]
    return _shown(request, step[:200], jobs, [])


@router.post("/rounds")
def send(request: Request, fields: Fields) -> Response:
    """Enter the repair on every machine as one act, or on none."""
    seen = dict(_pair(line) for line in many(fields, "seen"))
    step = fields.get("step", "")
    try:
        kind, _, name = step.partition(":")
        if kind != "repair":
            raise InputError("only a repair is entered on several machines at once", "round", "read each on its own")
        done = do_round(
            request.app.state.shop, seen, {"repair": name}, act_id=act_of(fields), by=who(request)
        )
    except FirstpullError as error:
        return _shown(request, step, list(seen), error_list(error), 422)
    if done.waits:
        changed = [
            {"what": f"{e.by} has changed job {e.job} meanwhile", "where": "", "right": "look, then enter it again"}
            for e in done.changed
        ]
        return _shown(request, step, list(seen), changed, 409)
    return onward(request, "/")


def _pair(line: str) -> tuple[str, int]:
    job, _, version = line.partition("=")
    return job, int(version) if version.isascii() and version.isdigit() and len(version) < 12 else 0


def _shown(
    request: Request, step: str, jobs: Sequence[str], errors: list[dict[str, str]], status: int = 200
) -> HTMLResponse:
    shop = request.app.state.shop
    try:
        model = rounds_page(shop, step, jobs)
    except FirstpullError as error:
        model, status = rounds_page(shop), 422
        errors = [*errors, *error_list(error)]
    return sheet(request, "rounds.html", status, model=model, errors=errors, step=step, ticked=list(jobs))

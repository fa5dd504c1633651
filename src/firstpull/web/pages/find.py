"""Finding, repairing and undoing on one job."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from firstpull.base.errors import FirstpullError, InputError
from firstpull.bench.find import enter, enter_many, note, undo
from firstpull.bench.page_models import find_page, no_class_page
from firstpull.bench.shop import Done
from firstpull.bench.stateless import error_dict
from firstpull.web.forms import read_form, who, whole
from firstpull.web.render import page

router = APIRouter(include_in_schema=False)


@router.get("/job/{job}")
def show(request: Request, job: str) -> HTMLResponse:
    """The job's page: what comes next."""
    return _shown(request, job, [])


@router.post("/job/{job}/step")
async def step(request: Request, job: str) -> Response:
    """Enter what was done: access moves first, then a check's reading or a repair."""
    fields = await read_form(request)
    how = _how(request, fields)
    try:
        steps = _steps(fields)
        shop = request.app.state.shop
        done = enter(shop, job, steps[0], **how) if len(steps) == 1 else enter_many(shop, job, steps, **how)
    except FirstpullError as error:
        return _shown(request, job, error_dict(error)["all"], fields, 422)
    return _after(request, job, done)


@router.post("/job/{job}/undo")
async def withdraw(request: Request, job: str) -> Response:
    """Withdraw one act."""
    fields = await read_form(request)
    done = undo(request.app.state.shop, job, fields.get("undone", ""), **_how(request, fields))
    return _after(request, job, done)


@router.post("/job/{job}/note")
async def keep_note(request: Request, job: str) -> Response:
    """Keep free words."""
    fields = await read_form(request)
    done = note(request.app.state.shop, job, fields.get("text", ""), **_how(request, fields))
    return _after(request, job, done)


def _how(request: Request, fields: dict[str, str]) -> dict[str, Any]:
    act = fields.get("act", "")
    if not act:
        raise InputError("no act id", "act", "the hidden field of the form")
    return {"act_id": act, "based_on": whole(fields, "based_on"), "by": who(request)}


def _steps(fields: dict[str, str]) -> list[dict[str, Any]]:
    """The steps that a form stands for."""
    steps: list[dict[str, Any]] = []
    for move in filter(None, fields.get("move", "").split("\n")):
        item, _, state = move.partition("=")
        steps.append({"access": item, "state": state})
    if fields.get("check"):
        steps.append(_check(fields))
    if fields.get("repair"):
        steps.append({"repair": fields["repair"]})
    if not steps:
        raise InputError("nothing was entered", "step", "an answer, a move or a repair")
    return steps


def _check(fields: dict[str, str]) -> dict[str, Any]:
    typed = fields.get("value", "").strip()
    reading: Any = fields.get("reading", "")
    if typed:
        reading = f"{typed} {fields.get('unit', '')}".strip()
    places = [p for p in fields.get("place", "").split("\n") if p]
    key = fields.get("places_key", "")
    if key and reading not in ("not-possible", "not-done", "now-and-then"):
        reading = {fields.get("value_key") or "loss": reading, key: places} if reading else {key: places}
    found: dict[str, Any] = {"check": fields["check"], "reading": reading}
    drive = fields.get("drive", "")
    if drive and drive not in ("none", "running"):
        found["with"] = {"drive": drive}
    return found


def _after(request: Request, job: str, done: Done) -> Response:
    if done.waits:
        changed = [{"what": f"{e.by}: {e.kind} {e.body.get('item') or e.body.get('repair') or ''}", "where": "",
                    "right": "look, then enter it again"} for e in done.changed]
        return _shown(request, job, changed, None, 409)
    return RedirectResponse(f"/job/{job}", status_code=303)


def _shown(
    request: Request, job: str, errors: list[dict[str, str]], typed: dict[str, str] | None = None, status: int = 200
) -> HTMLResponse:
    shop = request.app.state.shop
    if not shop.record(job).machine_class:
        return HTMLResponse(page(request, "no_class.html", model=no_class_page(shop, job), errors=errors), status)
    text = page(request, "find.html", model=find_page(shop, job), errors=errors, typed=typed or {})
    return HTMLResponse(text, status_code=status)

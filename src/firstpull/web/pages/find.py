"""Finding, repairing and undoing on one job."""

from __future__ import annotations

from contextlib import suppress
from typing import Any

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from firstpull.base.errors import FirstpullError, InputError
from firstpull.bench.find import enter, enter_many, note, undo
from firstpull.bench.intake import say_kind
from firstpull.bench.pages.act import card_page
from firstpull.bench.pages.find import find_page, no_class_page
from firstpull.bench.pages.release import release_page
from firstpull.bench.shop import Done
from firstpull.bench.tools import do_without
from firstpull.web.forms import Fields, act_of, many, who, whole
from firstpull.web.news import newer
from firstpull.web.render import error_list, onward, sheet
from firstpull.web.waiting import may_enter

router = APIRouter(include_in_schema=False)
NO_READING = ("not-possible", "not-done", "now-and-then")


@router.get("/job/{job}")
def show(request: Request, job: str) -> HTMLResponse:
    """The job's page with what is known at this moment."""
    return shown(request, job, [])


@router.get("/job/{job}/news")
async def news(request: Request, job: str, after: str = "") -> Response:
    """The job's page again as soon as there is more to see than `after`; 204 when nothing came for a while."""
    if not await newer(request.app.state.shop, job, after):
        return Response(status_code=204)
    return await run_in_threadpool(shown, request, job, [])


@router.post("/job/{job}/step")
def step(request: Request, job: str, fields: Fields) -> Response:
    """Enter what was done: access moves first, then a check's reading or a repair."""
    may_enter(request, job, fields, act_of(fields))
    how = how_of(request, fields)
    try:
        steps = _steps(fields)
        shop = request.app.state.shop
        done = enter(shop, job, steps[0], **how) if len(steps) == 1 else enter_many(shop, job, steps, **how)
    except FirstpullError as error:
        return shown(request, job, error_list(error), fields, 422)
    return after(request, job, done, fields)


@router.post("/job/{job}/undo")
def withdraw(request: Request, job: str, fields: Fields) -> Response:
    """Withdraw one act."""
    done = undo(request.app.state.shop, job, fields.get("undone", ""), **how_of(request, fields))
    return after(request, job, done, fields)


@router.post("/job/{job}/note")
def keep_note(request: Request, job: str, fields: Fields) -> Response:
    """Keep free words."""
    done = note(request.app.state.shop, job, fields.get("text", ""), **how_of(request, fields))
    return after(request, job, done, fields)


@router.post("/job/{job}/kind")
def kind(request: Request, job: str, fields: Fields) -> Response:
    """Say which kind of machine it is."""
    done = say_kind(request.app.state.shop, job, fields.get("machine", ""), **how_of(request, fields))
    return after(request, job, done, fields)


@router.post("/job/{job}/tool")
def no_tool(request: Request, job: str, fields: Fields) -> Response:
    """Do without an instrument from now on, on every job."""
    shop = request.app.state.shop
    shop.record(job)
    do_without(shop, fields.get("tool", ""))
    return onward(request, f"/job/{job}")


def how_of(request: Request, fields: dict[str, str]) -> dict[str, Any]:
    """Which act a form is, what its sender had seen, and who sent it.

    Raises:
        InputError: it brings no act id.
    """
    return {"act_id": act_of(fields), "based_on": whole(fields, "based_on"), "by": who(request)}


def _steps(fields: dict[str, str]) -> list[dict[str, Any]]:
    """The steps that a form stands for; what could not be done moved nothing."""
    steps: list[dict[str, Any]] = []
    if fields.get("reading") != "not-done":
        for move in many(fields, "move"):
            item, _, state = move.partition("=")
            steps.append({"access": item, "state": state})
    if fields.get("check"):
        steps.append(_check(fields))
    if fields.get("told"):
        steps.append({"told": fields["told"], "answer": fields.get("answer", "yes")})
    if fields.get("repair"):
        steps.append({"repair": fields["repair"]})
    if not steps:
        raise InputError("nothing was entered", "step", "an answer, a move, a repair or what was told")
    return steps


def _check(fields: dict[str, str]) -> dict[str, Any]:
    """A check with its reading: a tapped word, or else what was typed."""
    typed = fields.get("value", "").strip()
    reading: Any = fields.get("reading", "")
    unit = fields.get("unit", "")
    if typed and not reading:
        reading = f"{typed} {unit}".strip() if typed[-1].isdigit() or typed[-1] in ".," else typed
    if reading not in NO_READING:
        reading = _with_places(fields, reading)
    found: dict[str, Any] = {"check": fields["check"], "reading": reading}
    drive = fields.get("drive", "")
    if drive and drive not in ("none", "running"):
        found["with"] = {"drive": drive}
    if fields.get("while") in ("failing", "fine"):
        found["while"] = fields["while"]
    if fields.get("spread", "").strip() and typed:
        found["spread"] = f"{fields['spread'].strip()} {unit}".strip()
    return found


def _with_places(fields: dict[str, str], reading: Any) -> Any:
    """A reading joined with the places that stood out, where a check asks for both."""
    if "places_key" not in fields:
        return reading
    places = {fields["places_key"] or "reading": many(fields, "place")}
    return {fields.get("value_key") or "loss": reading, **places} if reading else places


def after(request: Request, job: str, done: Done, fields: dict[str, str]) -> Response:
    """Where a form leads: on, or back with what the other hand changed meanwhile."""
    if done.waits:
        changed = [
            {"what": f"{e.by} has changed something meanwhile: {e.kind} "
                     f"{e.body.get('item') or e.body.get('repair') or ''} {e.body.get('state') or ''}".strip(),
             "where": "", "right": "look, then enter yours again"}
            for e in done.changed
        ]
        return shown(request, job, changed, {"back": fields.get("back", "")}, 409)
    page = "/release" if fields.get("back") == "release" else ""
    return onward(request, f"/job/{done.record.job}{page}")


def shown(
    request: Request, job: str, errors: list[dict[str, str]], typed: dict[str, str] | None = None, status: int = 200
) -> HTMLResponse:
    """The page a form came from, or the question which kind of machine it is."""
    shop = request.app.state.shop
    if not shop.record(job).machine_class:
        return sheet(request, "no_class.html", status, model=no_class_page(shop, job), errors=errors)
    if typed and typed.get("back") == "release":
        return sheet(request, "release.html", status, model=release_page(shop, job), errors=errors)
    model = find_page(shop, job)
    kind, name = _meant(typed or {})
    if errors and name and (model.step is None or (model.step.kind, model.step.id) != (kind, name)):
        # What was typed for one step must not stand in the field of another.
        with suppress(InputError):
            card = card_page(shop, job, kind, name)
            return sheet(request, "card.html", status, model=card, errors=errors, typed=typed)
    return sheet(request, "find.html", status, model=model, errors=errors, typed=typed or {})


def _meant(typed: dict[str, str]) -> tuple[str, str]:
    """Which step a form was about."""
    return next(((kind, typed[kind]) for kind in ("check", "repair") if typed.get(kind)), ("", ""))

"""Proving, and the two doors out."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.find import set_value
from firstpull.bench.pages.release import release_page
from firstpull.bench.release import WithIt, hand_back, release_working, return_unmended
from firstpull.bench.shop import Done
from firstpull.web.forms import Fields
from firstpull.web.pages.find import after, how_of, shown
from firstpull.web.render import error_list, onward, sheet
from firstpull.web.roles import Act
from firstpull.web.viewer import must

router = APIRouter(include_in_schema=False)
DOORS = {"value": Act.REPAIR, "hand-back": Act.HAND_BACK}


@router.get("/job/{job}/release")
def show(request: Request, job: str) -> HTMLResponse:
    """What stands between the machine and the door."""
    return _shown(request, job, [])


@router.post("/job/{job}/release")
def send(request: Request, job: str, fields: Fields) -> Response:
    """Write a value down, pass one of the doors, or hand the machine over."""
    must(request, DOORS.get(fields.get("door", ""), Act.RELEASE))
    try:
        done = _passed(request, job, fields)
    except FirstpullError as error:
        return _shown(request, job, error_list(error), 422)
    if done is not None and done.waits:
        return after(request, job, done, fields)
    return onward(request, "/" if fields.get("door") == "hand-back" else f"/job/{job}/release")


def _passed(request: Request, job: str, fields: dict[str, str]) -> Done | None:
    """What was done at the doors; nothing when no door was named."""
    shop = request.app.state.shop
    how = how_of(request, fields)
    match fields.get("door", ""):
        case "value":
            name, value, unit = (fields.get(key, "") for key in ("name", "value", "unit"))
            return set_value(shop, job, name, value, unit, **how)
        case "working":
            reasons = {k.removeprefix("reason-"): v for k, v in fields.items() if k.startswith("reason-")}
            return release_working(shop, job, reasons, **how)
        case "returned":
            return return_unmended(shop, job, fields.get("why", ""), **how)
        case "hand-back":
            return hand_back(shop, job, fields.get("to", ""), fields.get("fuel", ""), **how, with_it=_with_it(fields))
    return None


def _with_it(fields: dict[str, str]) -> WithIt:
    """What changes hands with the machine, as it was typed."""
    old, loose = (tuple(bit.strip() for bit in fields.get(key, "").split(",") if bit.strip())
                  for key in ("old_parts", "loose_bits"))
    return WithIt(fields.get("paid", ""), fields.get("how_paid", ""), loose, old,
                  keep_open=fields.get("keep_open") == "1")


def _shown(request: Request, job: str, errors: list[dict[str, str]], status: int = 200) -> HTMLResponse:
    shop = request.app.state.shop
    if not shop.record(job).machine_class:
        return shown(request, job, errors, None, status)
    return sheet(request, "release.html", status, model=release_page(shop, job), errors=errors)

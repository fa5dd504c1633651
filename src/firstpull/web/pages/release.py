"""Proving, and the two doors out."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.find import set_value
from firstpull.bench.page_models import release_page
from firstpull.bench.release import hand_back, release_working, return_unmended
from firstpull.bench.stateless import error_dict
from firstpull.web.forms import read_form, who, whole
from firstpull.web.render import page

router = APIRouter(include_in_schema=False)


@router.get("/job/{job}/release")
def show(request: Request, job: str) -> HTMLResponse:
    """What stands between the machine and the door."""
    return _shown(request, job, [])


@router.post("/job/{job}/release")
async def send(request: Request, job: str) -> Response:
    """Write a value down, pass one of the doors, or hand the machine over."""
    fields = await read_form(request)
    shop = request.app.state.shop
    act, based_on, by = fields.get("act", ""), whole(fields, "based_on"), who(request)
    try:
        match fields.get("door", ""):
            case "value":
                set_value(shop, job, fields.get("name", ""), fields.get("value", ""), fields.get("unit", ""),
                          act_id=act, based_on=based_on, by=by)
            case "working":
                reasons = {k.removeprefix("reason-"): v for k, v in fields.items() if k.startswith("reason-")}
                release_working(shop, job, reasons, act_id=act, based_on=based_on, by=by)
            case "returned":
                return_unmended(shop, job, fields.get("why", ""), act_id=act, based_on=based_on, by=by)
            case "hand-back":
                hand_back(shop, job, fields.get("to", ""), fields.get("fuel", ""), act_id=act, based_on=based_on, by=by)
                return RedirectResponse("/", status_code=303)
    except FirstpullError as error:
        return _shown(request, job, error_dict(error)["all"], 422)
    return RedirectResponse(f"/job/{job}/release", status_code=303)


def _shown(request: Request, job: str, errors: list[dict[str, str]], status: int = 200) -> HTMLResponse:
    model = release_page(request.app.state.shop, job)
    return HTMLResponse(page(request, "release.html", model=model, errors=errors), status_code=status)

"""The shop's settings, and how this one phone or laptop wants its pages."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.own_units import CHOICES, keep_units
from firstpull.bench.pages.settings import keep_settings, settings_page
from firstpull.bench.schooling import HAZARDS, keep_school, school_of
from firstpull.web.forms import Fields, many, own_name
from firstpull.web.render import error_list, sheet
from firstpull.web.roles import Act
from firstpull.web.viewer import must

router = APIRouter(include_in_schema=False)
YEAR = 365 * 24 * 3600


@router.get("/settings")
def show(request: Request) -> HTMLResponse:
    """The settings as they stand."""
    return _shown(request, [])


@router.post("/settings")
def send(request: Request, fields: Fields) -> Response:
    """Keep the shop's settings, or those of this screen."""
    answer = RedirectResponse("/settings", status_code=303)
    if fields.get("part") == "screen":
        said = {"sun": fields.get("sun", ""), "hand": fields.get("hand", ""), "who": fields.get("who", "").strip()[:40]}
        for name, value in said.items():
            if value and value.isascii() and value.isprintable():
                answer.set_cookie(name, value, max_age=YEAR, samesite="lax", httponly=True)
            else:
                answer.delete_cookie(name)
        return answer
    must(request, Act.SETTINGS)
    try:
        if fields.get("part") == "school":
            keep_school(request.app.state.shop, fields.get("school") == "1", many(fields, "waits"))
            return answer
        if fields.get("part") == "units":
            said = {kind: fields.get(f"unit-{kind}", "") for kind in CHOICES}
            keep_units(request.app.state.shop, said, fields.get("blades", ""))
            return answer
        keep_settings(request.app.state.shop, many(fields, "tool"), fields.get("rate", ""),
                      fields.get("altitude", ""), fields.get("air", ""))
    except FirstpullError as error:
        return _shown(request, error_list(error), 422)
    return answer


def _shown(request: Request, errors: list[dict[str, str]], status: int = 200) -> HTMLResponse:
    model = settings_page(request.app.state.shop)
    return sheet(
        request, "settings.html", status, model=model, errors=errors, hand=own_name(request), hazards=HAZARDS,
        school=school_of(request.app.state.shop),
    )

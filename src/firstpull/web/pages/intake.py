"""Taking a machine in."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.pages.head import fresh_act
from firstpull.bench.pages.intake import intake_page
from firstpull.web.forms import Fields, many, who
from firstpull.web.render import error_list, onward, sheet

router = APIRouter(include_in_schema=False)
FIELDS = ("who", "number", "complaint", "limit", "machine", "promised")


@router.get("/take-in")
def show(request: Request) -> HTMLResponse:
    """The empty form."""
    return _form(request, {}, [], fresh_act())


@router.post("/take-in")
def send(request: Request, fields: Fields) -> Response:
    """Take it in, or show the form again with what is wrong and all that was typed."""
    words = [*many(fields, "tapped"), fields.get("complaint", "").strip()]
    said = Counter(
        fields.get("who", ""), fields.get("number", ""), ", ".join(filter(None, words)), fields.get("limit", ""),
        fields.get("machine", ""), tuple(many(fields, "told")), promised=fields.get("promised", ""),
    )
    act = fields.get("act", "") or fresh_act()
    try:
        job = take_in(request.app.state.shop, said, act_id=act, by=who(request))
    except FirstpullError as error:
        return _form(request, fields, error_list(error), act, 422)
    return onward(request, f"/job/{job}")


def _form(
    request: Request, fields: dict[str, str], errors: list[dict[str, str]], act: str, status: int = 200
) -> HTMLResponse:
    said: dict[str, Any] = {name: fields.get(name, "") for name in FIELDS}
    said |= {name: many(fields, name) for name in ("told", "tapped")}
    model = intake_page(request.app.state.shop)
    return sheet(request, "intake.html", status, said=said, errors=errors, act=act, model=model)

"""Taking a machine in."""

from __future__ import annotations

from dataclasses import asdict

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.page_models import fresh_act, intake_page
from firstpull.bench.stateless import error_dict
from firstpull.web.forms import read_form, who
from firstpull.web.render import page

router = APIRouter(include_in_schema=False)


@router.get("/take-in")
def show(request: Request) -> HTMLResponse:
    """The empty form."""
    return _form(request, Counter("", "", "", ""), [], fresh_act())


@router.post("/take-in")
async def send(request: Request) -> Response:
    """Take it in, or show the form again with what is wrong and all that was typed."""
    fields = await read_form(request)
    said = Counter(
        fields.get("who", ""), fields.get("number", ""), fields.get("complaint", ""), fields.get("limit", ""),
        fields.get("machine", ""), tuple(filter(None, fields.get("told", "").split("\n"))),
    )
    act = fields.get("act", "") or fresh_act()
    try:
        job = take_in(request.app.state.shop, said, act_id=act, by=who(request))
    except FirstpullError as error:
        return _form(request, said, error_dict(error)["all"], act, 422)
    return RedirectResponse(f"/job/{job}", status_code=303)


def _form(
    request: Request, said: Counter, errors: list[dict[str, str]], act: str, status: int = 200
) -> HTMLResponse:
    model = intake_page(request.app.state.shop)
    text = page(request, "intake.html", said=asdict(said), errors=errors, act=act, model=model)
    return HTMLResponse(text, status_code=status)

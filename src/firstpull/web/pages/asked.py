"""What learners ask to be let do, and an instructor's tap."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.pages.head import fresh_act
from firstpull.bench.schooling import all_asked, free, propose, school_of
from firstpull.web.forms import Fields
from firstpull.web.pages.find import how_of
from firstpull.web.render import error_list, onward, sheet

router = APIRouter(include_in_schema=False)


@router.get("/asked")
def show(request: Request) -> HTMLResponse:
    """Everything that waits for an instructor."""
    return _shown(request, [])


@router.post("/job/{job}/ask")
def ask(request: Request, job: str, fields: Fields) -> Response:
    """Ask to be let do a check or a repair."""
    try:
        propose(request.app.state.shop, job, fields.get("wanted", ""), **how_of(request, fields))
    except FirstpullError as error:
        return _shown(request, error_list(error), 422)
    return onward(request, "/asked")


@router.post("/job/{job}/free")
def let_go(request: Request, job: str, fields: Fields) -> Response:
    """Let it go, or do not."""
    yes = fields.get("said") == "yes"
    try:
        free(request.app.state.shop, job, fields.get("asked", ""), yes, **how_of(request, fields))
    except FirstpullError as error:
        return _shown(request, error_list(error), 422)
    return onward(request, "/asked")


def _shown(request: Request, errors: list[dict[str, str]], status: int = 200) -> HTMLResponse:
    shop = request.app.state.shop
    return sheet(
        request, "asked.html", status, errors=errors, asked=all_asked(shop), act=fresh_act(), school=school_of(shop)
    )

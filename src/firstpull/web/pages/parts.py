"""Parts: wanted, ordered, arrived, fitted; and one order a supplier for the whole shop."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.pages.parts import order_page, parts_page
from firstpull.bench.parting import PartSaid, part_step
from firstpull.web.forms import Fields, whole
from firstpull.web.pages.find import after, how_of
from firstpull.web.render import error_list, onward, sheet

router = APIRouter(include_in_schema=False)
TYPED = ("part", "line", "number", "supplier", "cost", "price", "deposit", "promised", "condition", "proof", "words")


@router.get("/parts")
def order(request: Request) -> HTMLResponse:
    """What is to be ordered for all jobs."""
    return sheet(request, "order.html", model=order_page(request.app.state.shop))


@router.get("/job/{job}/parts")
def show(request: Request, job: str) -> HTMLResponse:
    """The parts of a job."""
    return _shown(request, job, {}, [])


@router.post("/job/{job}/parts")
def send(request: Request, job: str, fields: Fields) -> Response:
    """Keep one step in the life of a part, or show what was typed with what is wrong."""
    typed: dict[str, Any] = {name: fields.get(name, "") for name in TYPED}
    said = PartSaid(**typed, quantity=whole(fields, "quantity") if fields.get("quantity") else 1)
    try:
        kept = part_step(request.app.state.shop, job, fields.get("state", ""), said, **how_of(request, fields))
    except FirstpullError as error:
        return _shown(request, job, fields, error_list(error), 422)
    if kept.done.waits:
        return after(request, job, kept.done, fields)
    return onward(request, f"/job/{job}/parts")


def _shown(
    request: Request, job: str, typed: dict[str, str], errors: list[dict[str, str]], status: int = 200
) -> HTMLResponse:
    model = parts_page(request.app.state.shop, job)
    return sheet(request, "parts_page.html", status, model=model, errors=errors, typed=typed)

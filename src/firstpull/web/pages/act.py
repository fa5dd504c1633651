"""Whatever else was done: the shelves of checks, repairs and moves, and one of them on a sheet of its own."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from firstpull.bench.pages.act import acts_page, card_page
from firstpull.web.render import sheet

router = APIRouter(include_in_schema=False)


@router.get("/job/{job}/did")
def shelves(request: Request, job: str, q: str = "") -> HTMLResponse:
    """All that can be entered on a job."""
    return sheet(request, "did.html", model=acts_page(request.app.state.shop, job, q[:100]))


@router.get("/job/{job}/check/{name}")
def check(request: Request, job: str, name: str) -> HTMLResponse:
    """One check, to be answered."""
    return sheet(request, "card.html", model=card_page(request.app.state.shop, job, "check", name), typed={})


@router.get("/job/{job}/repair/{name}")
def repair(request: Request, job: str, name: str) -> HTMLResponse:
    """One repair, to be entered."""
    return sheet(request, "card.html", model=card_page(request.app.state.shop, job, "repair", name), typed={})

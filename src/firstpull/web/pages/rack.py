"""The rack: all jobs as tags."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from firstpull.bench.pages.rack import rack_page
from firstpull.web.render import sheet

router = APIRouter(include_in_schema=False)


@router.get("/")
def show(request: Request, q: str = "") -> HTMLResponse:
    """The rack, or what a search found on it."""
    words = q[:200]
    return sheet(request, "rack.html", page=rack_page(request.app.state.shop, words), search=words)

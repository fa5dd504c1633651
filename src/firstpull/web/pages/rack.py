"""The rack: all jobs as tags."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from firstpull.bench.page_models import rack
from firstpull.web.render import page

router = APIRouter(include_in_schema=False)


@router.get("/")
def show(request: Request, q: str = "") -> HTMLResponse:
    """The rack, or what a search found on it."""
    return HTMLResponse(page(request, "rack.html", tags=rack(request.app.state.shop, q[:200]), search=q[:200]))

"""What a check would read, for those who ask."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from firstpull.bench.pages.strip import strip_page
from firstpull.web.render import sheet
from firstpull.web.strip_picture import WIDTHS, picture

router = APIRouter(include_in_schema=False)


@router.get("/job/{job}/strip/{check}")
def show(request: Request, job: str, check: str) -> HTMLResponse:
    """The strip at every width; the page shows the one that fits."""
    model = strip_page(request.app.state.shop, job, check)
    drawn = [picture(model.strip, width) for width in WIDTHS] if model.strip is not None else []
    return sheet(request, "strip_page.html", model=model, drawn=drawn)

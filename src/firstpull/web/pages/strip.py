"""What a check would read, for those who ask."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from firstpull.bench.marking import marked
from firstpull.bench.own_units import first_unit, own_units, strip_in
from firstpull.bench.pages.strip import strip_page
from firstpull.web.render import sheet
from firstpull.web.strip_picture import WIDTHS, picture

router = APIRouter(include_in_schema=False)


@router.get("/job/{job}/strip/{check}")
def show(request: Request, job: str, check: str) -> HTMLResponse:
    """The strip at every width; the page shows the one that fits."""
    model = strip_page(request.app.state.shop, job, check)
    shop = request.app.state.shop
    if model.strip is None:
        return sheet(request, "strip_page.html", model=model, strip=None, drawn=[], was_read="")
    whole, was_read = marked(shop, job, model.strip)
    whole = strip_in(whole, first_unit(own_units(shop), whole.unit))
    drawn = [picture(whole, width) for width in WIDTHS]
    return sheet(request, "strip_page.html", model=model, strip=whole, drawn=drawn, was_read=was_read)

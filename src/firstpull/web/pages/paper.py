"""Sheets to print: which there are for a job, and each of them as a file."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from firstpull.bench.pages.chart import chart_page
from firstpull.bench.pages.head import head
from firstpull.bench.printing import KINDS, PAPERS, file_name, print_sheet
from firstpull.web.render import page, sheet

router = APIRouter(include_in_schema=False)
# What each sheet is called on the page; the order is that of a job.
NAMES = {
    "tag": "Tag", "receipt": "Intake receipt", "estimate": "Estimate", "approval": "Approval slip",
    "work-sheet": "Work sheet, when there is no power", "bill": "Bill", "hand-over": "Hand-over sheet",
    "returned": "Returned, not repaired", "abandoned": "Notice to an owner who does not come",
    "chart": "Bench chart",
}


@router.get("/job/{job}/paper")
def show(request: Request, job: str) -> HTMLResponse:
    """All sheets of a job, on both papers."""
    shop = request.app.state.shop
    sheets = [(kind, NAMES.get(kind, kind)) for kind in KINDS]
    return HTMLResponse(page(request, "paper.html", head=head(shop, shop.record(job)), sheets=sheets, papers=PAPERS))


@router.get("/job/{job}/chart")
def chart(request: Request, job: str) -> HTMLResponse:
    """The bench chart: that it is being worked out, or that it can be printed."""
    model = chart_page(request.app.state.shop, job)
    return sheet(request, "chart.html", 200 if model.ready else 202, model=model, papers=PAPERS)


@router.get("/job/{job}/paper/{kind}")
def send(request: Request, job: str, kind: str, paper: str = "a4") -> Response:
    """One sheet as a PDF; a chart that is not there yet has a page that waits for it."""
    if kind == "chart" and not chart_page(request.app.state.shop, job).ready:
        return RedirectResponse(f"/job/{job}/chart", status_code=303)
    data = print_sheet(request.app.state.shop, job, kind, paper)
    shown = f'inline; filename="{file_name(job, kind)}"'
    return Response(data, media_type="application/pdf", headers={"Content-Disposition": shown})

"""What was before on the same machine, what a comeback is measured against, and all that was done on a job."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.history import name_cause
from firstpull.bench.pages.history import history_page
from firstpull.web.forms import Fields
from firstpull.web.pages.find import after, how_of
from firstpull.web.render import error_list, onward, sheet

router = APIRouter(include_in_schema=False)


@router.get("/job/{job}/history")
def show(request: Request, job: str) -> HTMLResponse:
    """Earlier jobs and all acts of this one."""
    return sheet(request, "history.html", model=history_page(request.app.state.shop, job))


@router.post("/job/{job}/history")
def send(request: Request, job: str, fields: Fields) -> Response:
    """Keep why a machine came back."""
    shop = request.app.state.shop
    try:
        done = name_cause(shop, job, fields.get("of", ""), fields.get("cause_class", ""), **how_of(request, fields),
                          words=fields.get("words", ""))
    except FirstpullError as error:
        model = history_page(shop, job)
        return sheet(request, "history.html", 422, model=model, errors=error_list(error))
    return after(request, job, done, fields) if done.waits else onward(request, f"/job/{job}/history")

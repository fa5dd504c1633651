"""The bill as it stands, and the clock it is made from."""

from __future__ import annotations

import re
from urllib.parse import urlsplit

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from firstpull.bench.clocking import set_clock
from firstpull.bench.pages.bill import bill_page
from firstpull.web.forms import Fields
from firstpull.web.pages.find import how_of
from firstpull.web.render import onward, sheet

router = APIRouter(include_in_schema=False)
SHEETS = re.compile(r"^/job/[^/]+(/(did|owner|release|parts|pictures|bill|history|paper))?$")


@router.get("/job/{job}/bill")
def show(request: Request, job: str) -> HTMLResponse:
    """What is owed for what was done."""
    return sheet(request, "bill.html", model=bill_page(request.app.state.shop, job))


@router.post("/job/{job}/clock")
def tap(request: Request, job: str, fields: Fields) -> Response:
    """Start or pause the clock of whoever taps, and stay on the sheet it was tapped on."""
    state, _, waiting = fields.get("state", "").partition(" ")
    set_clock(request.app.state.shop, job, state, waiting=waiting == "waiting", **how_of(request, fields))
    return onward(request, _from_where(request, job))


def _from_where(request: Request, job: str) -> str:
    """The sheet of this job that the tap came from; the job's first sheet when it came from nowhere known."""
    came = urlsplit(request.headers.get("referer", ""))
    own = came.netloc == request.headers.get("host") and came.path.startswith(f"/job/{job}")
    return came.path if own and SHEETS.match(came.path) else f"/job/{job}"

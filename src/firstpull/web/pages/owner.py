"""What the owner sees and says."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.approving import approve
from firstpull.bench.estimating import make_estimate
from firstpull.bench.limits import over_limit
from firstpull.bench.pages.owner import owner_page
from firstpull.web.forms import Fields
from firstpull.web.pages.find import after, how_of, shown
from firstpull.web.render import error_list, onward, sheet
from firstpull.web.roles import Act
from firstpull.web.viewer import must

router = APIRouter(include_in_schema=False)
SAID = {"mend": ("mend", True), "find": ("find", True), "leave": ("mend", False)}


@router.get("/job/{job}/owner")
def show(request: Request, job: str) -> HTMLResponse:
    """The sheet for the owner."""
    return _shown(request, job, {}, [])


@router.post("/job/{job}/owner")
def send(request: Request, job: str, fields: Fields) -> Response:
    """Keep the estimate as it was said, with the owner's yes or no."""
    shop = request.app.state.shop
    if over_limit(shop, job, fields.get("sum", "")):
        must(request, Act.APPROVE_OVER)
    how = how_of(request, fields)
    to, yes = SAID.get(fields.get("said", ""), ("", False))
    try:
        make_estimate(shop, job, **{**how, "act_id": f"{how['act_id']}e"}, how=fields.get("how", ""))
        done = approve(shop, job, to, fields.get("who", ""), fields.get("sum", "") if yes else "",
                       fields.get("how", ""), **how, yes=yes).done
    except FirstpullError as error:
        return _shown(request, job, fields, error_list(error), 422)
    if done.waits:
        return after(request, job, done, fields)
    return onward(request, f"/job/{job}/owner")


def _shown(
    request: Request, job: str, typed: dict[str, str], errors: list[dict[str, str]], status: int = 200
) -> HTMLResponse:
    shop = request.app.state.shop
    if not shop.record(job).machine_class:
        return shown(request, job, errors, None, status)
    return sheet(request, "owner.html", status, model=owner_page(shop, job), errors=errors, typed=typed)

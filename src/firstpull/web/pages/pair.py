"""On a device that is not known yet: the code from the bench screen, and a name for the device."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from firstpull.base.errors import FirstpullError, InputError
from firstpull.web.forms import Fields
from firstpull.web.gate import COOKIE, COOKIE_SECONDS, Gate
from firstpull.web.rates import PAIRING_PACE
from firstpull.web.render import error_list, sheet
from firstpull.web.viewer import viewer_of

router = APIRouter(include_in_schema=False)
WRONG = InputError(
    "this code lets nobody in", "", "ask for a fresh one at the bench screen; a code is good once, for 5 minutes"
)


@router.get("/pair")
def show(request: Request, code: str = "") -> HTMLResponse:
    """The form, with the code that was scanned."""
    return _shown(request, {"code": code[:40]}, [])


@router.post("/pair")
def send(request: Request, fields: Fields) -> Response:
    """Let the device in if the code is good now, and only once."""
    gate: Gate = request.app.state.gate
    viewer = viewer_of(request)
    address = request.client.host if request.client else "nowhere"
    wait = gate.rates.wait(f"pairing {address}", PAIRING_PACE)
    if wait:
        words = InputError("too many codes were tried", "", f"wait {wait} seconds")
        slow = _shown(request, fields, error_list(words), 429)
        slow.headers["Retry-After"] = str(wait)
        return slow
    if viewer.here:
        return _shown(request, fields, [])
    code = gate.codes.use(fields.get("code", ""))
    if code is None:
        return _shown(request, fields, error_list(WRONG), 422)
    try:
        device, token = gate.devices.pair(fields.get("name", ""), code.role, code.by)
    except FirstpullError as error:
        gate.codes.give_back(code)
        return _shown(request, fields, error_list(error), 422)
    answer = RedirectResponse("/", status_code=303)
    answer.set_cookie(
        COOKIE, gate.seal.cookie(device.id, token), max_age=COOKIE_SECONDS, httponly=True, samesite="strict",
        secure=viewer.https,
    )
    return answer


def _shown(
    request: Request, typed: dict[str, str], errors: list[dict[str, str]], status: int = 200
) -> HTMLResponse:
    return sheet(request, "pair.html", status, typed=typed, errors=errors)

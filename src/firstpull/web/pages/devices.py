"""Which devices may come in: a code for the next one, and the list with a way to turn each away."""

from __future__ import annotations

from fastapi import APIRouter
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from firstpull.base.errors import FirstpullError, InputError
from firstpull.bench.schooling import school_of
from firstpull.web.forms import Fields, who
from firstpull.web.gate import Gate
from firstpull.web.pairing import picture
from firstpull.web.render import error_list, sheet
from firstpull.web.roles import ROLE_NAMES, SCHOOL_ROLES, Role
from firstpull.web.viewer import viewer_of

router = APIRouter(include_in_schema=False)


@router.get("/devices")
def show(request: Request) -> HTMLResponse:
    """The list, and at the bench screen the code that is good now."""
    return _shown(request, [])


@router.post("/devices/code")
def code(request: Request, fields: Fields) -> Response:
    """Make a code for one device with a role."""
    gate: Gate = request.app.state.gate
    try:
        if gate.lan is None:
            raise InputError("the workshop is open on this screen only", "", "stop it and start it with --lan")
        role = next((r for r in _roles(request) if r == fields.get("role")), None)
        if role is None:
            raise InputError("no such role", "role", ", ".join(ROLE_NAMES[r] for r in _roles(request)))
    except FirstpullError as error:
        return _shown(request, error_list(error), 422)
    gate.codes.make(role, who(request))
    return RedirectResponse("/devices#code", status_code=303)


@router.post("/devices/revoke")
def revoke(request: Request, fields: Fields) -> Response:
    """Turn a device away, at once and for good."""
    gate: Gate = request.app.state.gate
    try:
        gate.devices.revoke(fields.get("device", ""), who(request))
    except FirstpullError as error:
        return _shown(request, error_list(error), 422)
    return RedirectResponse("/devices", status_code=303)


def _roles(request: Request) -> list[Role]:
    """The roles that a device can be given here; those of a school only in a school."""
    school = school_of(request.app.state.shop).on
    return [role for role in Role if school or role not in SCHOOL_ROLES]


def _shown(request: Request, errors: list[dict[str, str]], status: int = 200) -> HTMLResponse:
    gate: Gate = request.app.state.gate
    here = viewer_of(request).here
    good = gate.codes.good() if here else None
    address = gate.lan.address if gate.lan else ""
    # The drawing is made of figures only; the address in it is this machine's own.
    drawn = Markup(picture(f"{address}/pair?code={good.text}")) if good and gate.lan else ""  # noqa: S704
    return sheet(
        request, "devices.html", status, errors=errors, here=here, lan=gate.lan, code=good, drawn=drawn,
        address=address, roles=_roles(request), devices=gate.devices.all(), damaged=gate.devices.damaged,
    )

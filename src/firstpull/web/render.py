"""Templates with everything escaped; one place that knows where they lie."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.stateless import error_dict
from firstpull.web.asking import must_ask
from firstpull.web.hiding import fitted
from firstpull.web.roles import ROLE_NAMES, Act
from firstpull.web.viewer import Viewer, viewer_of


@dataclass(frozen=True, slots=True)
class Looks:
    """How this one phone or laptop wants its pages: in the sun, for a left hand."""

    sun: bool = False
    left: bool = False


TEMPLATES = Path(__file__).parent / "templates"
# Whoever a page is being made for; macros ask it what may be shown.
_FOR: ContextVar[Viewer] = ContextVar("viewer")
_MUST_ASK: ContextVar[Callable[[str, str, str], str]] = ContextVar("must ask")


@cache
def _environment() -> Environment:
    found = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=select_autoescape(default=True), undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )
    found.globals["drawn_parts"] = drawn_parts()
    found.globals["may"] = lambda *acts: any(_FOR.get().may(Act(act)) for act in acts)
    found.globals["must_ask"] = _must_ask
    return found


def _must_ask(kind: str, name: str, job: str) -> str:
    """The hazard for which whoever the page is for must ask an instructor first."""
    return _MUST_ASK.get()(kind, name, job)


@cache
def drawn_parts() -> frozenset[str]:
    """The parts that have a place in a drawing; what has none is named beside it."""
    texts = (path.read_text(encoding="utf-8") for path in (TEMPLATES / "drawings").glob("*.svg"))
    return frozenset(part for text in texts for part in re.findall(r'pen\.(?:part|sleeve)\(d, "([a-z-]+)"', text))


def looks(request: Request) -> Looks:
    """The looks kept in this browser."""
    return Looks(request.cookies.get("sun") == "1", request.cookies.get("hand") == "left")


def page(request: Request, template: str, **values: Any) -> str:
    """A whole page as text."""
    shop = request.app.state.shop
    values.setdefault("errors", [])
    viewer = viewer_of(request)
    token = _FOR.set(viewer)
    asked = _MUST_ASK.set(lambda kind, name, job: must_ask(shop, viewer, job, {kind: name}))
    try:
        text = _environment().get_template(template).render(
            demo=shop.demo, path=request.url.path, looks=looks(request), viewer=viewer,
            role_names=ROLE_NAMES, **values
        )
    finally:
        _FOR.reset(token)
        _MUST_ASK.reset(asked)
    return fitted(text, viewer, request.app.state.gate.seal.form_token(viewer.seat))


def sheet(request: Request, template: str, status: int = 200, **values: Any) -> HTMLResponse:
    """A whole page as an answer."""
    return HTMLResponse(page(request, template, **values), status_code=status)


def error_list(error: FirstpullError) -> list[dict[str, str]]:
    """What was wrong, piece by piece, for the frame on the page."""
    found: list[dict[str, str]] = error_dict(error)["all"]
    return found


def onward(request: Request, address: str) -> Response:
    """On to another page; a script that asked for a part is told where, so that it can say at once what was kept."""
    if request.headers.get("x-part") == "1":
        return Response(status_code=204, headers={"X-Next": address})
    return RedirectResponse(address, status_code=303)

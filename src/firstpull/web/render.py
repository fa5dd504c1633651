"""Templates with everything escaped; one place that knows where they lie."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.stateless import error_dict


@dataclass(frozen=True, slots=True)
class Looks:
    """How this one phone or laptop wants its pages: in the sun, for a left hand."""

    sun: bool = False
    left: bool = False


TEMPLATES = Path(__file__).parent / "templates"


@cache
def _environment() -> Environment:
    found = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=select_autoescape(default=True), undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )
    found.globals["drawn_parts"] = drawn_parts()
    return found


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
    return _environment().get_template(template).render(
        demo=shop.demo, path=request.url.path, looks=looks(request), **values
    )


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

"""Templates with everything escaped; one place that knows where they lie."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from starlette.requests import Request


@cache
def _environment() -> Environment:
    folder = Path(__file__).parent / "templates"
    return Environment(
        loader=FileSystemLoader(folder), autoescape=select_autoescape(default=True), undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )


def page(request: Request, template: str, **values: Any) -> str:
    """A whole page as text."""
    shop = request.app.state.shop
    return _environment().get_template(template).render(demo=shop.demo, path=request.url.path, **values)

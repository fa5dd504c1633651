"""The handbook in the browser: to be looked up with a machine on the bench, and to be read without one."""

from __future__ import annotations

from fastapi import APIRouter
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from firstpull.bench.pages.handbook import entry_page, index_page, machines_page
from firstpull.web.render import sheet

router = APIRouter(prefix="/handbook", include_in_schema=False)


@router.get("/")
def index(request: Request, q: str = "") -> HTMLResponse:
    """Every entry by kind, or what a search found."""
    return sheet(request, "handbook.html", model=index_page(request.app.state.shop, q))


@router.get("/index.html")
def index_file(request: Request) -> Response:
    """The index under the name that entries call it by."""
    return RedirectResponse("/handbook/", status_code=303)


@router.get("/machines")
def machines(request: Request) -> HTMLResponse:
    """The figures of all classes side by side."""
    return sheet(request, "machines.html", model=machines_page(request.app.state.shop))


@router.get("/{file}")
def entry(request: Request, file: str) -> HTMLResponse:
    """One entry. Its body was escaped where it was made."""
    model = entry_page(request.app.state.shop, file)
    return sheet(request, "handbook_entry.html", model=model, body=Markup(model.body))  # noqa: S704  # escaped there

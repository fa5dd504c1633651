"""The application: guards, pages, the API, and how refusals are shown."""

from __future__ import annotations

import importlib.util
from collections.abc import Sequence
from pathlib import Path

from fastapi import FastAPI
from fastapi.staticfiles import StaticFiles
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from firstpull.base.errors import FirstpullError
from firstpull.bench.shop import Shop
from firstpull.bench.stateless import error_dict
from firstpull.bench.thinking.seen import NotYetError
from firstpull.web import api
from firstpull.web.doors import LOCAL_HOSTS, Door
from firstpull.web.gate import Gate
from firstpull.web.guard import Guard
from firstpull.web.pages import (
    act,
    asked,
    bill,
    devices,
    find,
    handbook,
    history,
    intake,
    owner,
    pair,
    paper,
    parts,
    pictures,
    rack,
    release,
    rounds,
    settings,
    strip,
)
from firstpull.web.render import page
from firstpull.web.viewer import NotAllowedError

HERE = Path(__file__).parent
PAGES = (
    rack, intake, find, act, strip, owner, paper, release, settings, handbook, parts, rounds, pictures, bill, history,
    pair, devices, asked,
)
HOSTS = (*LOCAL_HOSTS, "testserver")


def make_app(shop: Shop, hosts: Sequence[str] = HOSTS, gate: Gate | None = None) -> FastAPI:
    """The web face of one workshop; without a gate, one for this machine that forgets its devices."""
    app = FastAPI(title="firstpull", docs_url=None, redoc_url=None, openapi_url="/api/openapi.json")
    app.state.shop = shop
    app.state.gate = gate or Gate(bench=Door(tuple(hosts)))
    app.add_middleware(Guard, gate=app.state.gate)
    app.add_middleware(GZipMiddleware, minimum_size=800, compresslevel=5)
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    app.mount("/vendor", StaticFiles(directory=_htmx_folder()), name="vendor")
    for part in PAGES:
        app.include_router(part.router)
    app.include_router(api.router, prefix="/api")
    app.add_exception_handler(FirstpullError, _refused)
    return app


def _htmx_folder() -> Path:
    """Where the partial-update script lies; the framework around it is not imported."""
    spec = importlib.util.find_spec("django_htmx")
    if spec is None or spec.origin is None:
        raise FirstpullError("the partial-update script is missing", "django_htmx", "make setup")
    return Path(spec.origin).parent / "static" / "django_htmx"


def _refused(request: Request, error: Exception) -> Response:
    """A refusal as one clear message, in the form the asker reads."""
    assert isinstance(error, FirstpullError)
    status = 403 if isinstance(error, NotAllowedError) else 422
    if request.url.path.startswith("/api/"):
        return JSONResponse({"error": error_dict(error)}, status_code=status)
    if isinstance(error, NotYetError) and request.method == "GET":
        return HTMLResponse(page(request, "not_yet.html", again=_address(request)), 202, {"Retry-After": "2"})
    return HTMLResponse(page(request, "refused.html", errors=error_dict(error)["all"]), status_code=status)


def _address(request: Request) -> str:
    """The page that was asked for, without the name of this machine."""
    return f"{request.url.path}?{request.url.query}" if request.url.query else request.url.path

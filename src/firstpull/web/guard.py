"""What every request must pass, in this order: a host, a pace, a size, an origin, a pairing, a role, a token."""

from __future__ import annotations

import asyncio
from http import HTTPStatus
from typing import Any
from urllib.parse import urlsplit

from starlette.datastructures import MutableHeaders, State
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, PlainTextResponse, RedirectResponse, Response

from firstpull.bench.thinking.seen import GLANCE_SECONDS, patience
from firstpull.bench.veiling import veiled
from firstpull.web.doors import SCOPE_KEY as DOOR_KEY
from firstpull.web.doors import Door
from firstpull.web.gate import COOKIE, Gate
from firstpull.web.rates import BENCH_PACE, DEVICE_PACE, STRANGER_PACE
from firstpull.web.render import page
from firstpull.web.roles import FORM_BYTES, Entry, entry_for
from firstpull.web.viewer import SCOPE_KEY as VIEWER_KEY
from firstpull.web.viewer import Viewer, refusal

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
LARGEST_FORM = FORM_BYTES
BODY_SECONDS, PICTURE_SECONDS = 30.0, 180.0
HEADERS = {
    "Content-Security-Policy": "default-src 'self'; img-src 'self' data:; frame-ancestors 'none'; base-uri 'none'; "
    "form-action 'self'; object-src 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}


class Guard:
    """Stands before the application; what is refused here reaches nothing behind it."""

    def __init__(self, app: Any, gate: Gate) -> None:
        self._app, self._gate = app, gate

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        """Pass a request on, or refuse it in one sentence."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        request = Request(scope, receive)
        door = scope.get(DOOR_KEY, self._gate.bench)
        viewer = self._gate.viewer(door, request.cookies.get(COOKIE, ""))
        scope[VIEWER_KEY] = viewer
        scope["app"] = _AppSeen(scope["app"], viewer)
        headed = _Headed(send, scope["path"], self._gate, viewer)
        entry = entry_for(request.method, scope["path"])
        refused = self._at_the_door(request, door, viewer) or _too_large(request, entry) or _foreign(request)
        refused = refused or _not_for(request, viewer, entry)
        if refused is None and request.method not in SAFE_METHODS and not _is_api(request):
            refused, receive = await self._with_token(request, viewer, entry)
        if request.method in SAFE_METHODS and not _is_api(request):
            patience.set(GLANCE_SECONDS)
        await (refused or self._app)(scope, receive, headed)

    def _at_the_door(self, request: Request, door: Door, viewer: Viewer) -> Response | None:
        """A name that is not ours, or too much at once."""
        if not door.knows(request.headers.get("host", "")):
            return PlainTextResponse("This is not a name of this machine.", 400)
        address = request.client.host if request.client else "nowhere"
        who, pace = viewer.device or f"address {address}", DEVICE_PACE if viewer.device else STRANGER_PACE
        wait = self._gate.rates.wait(*(("bench", BENCH_PACE) if viewer.here else (who, pace)))
        if not wait:
            return None
        words = f"Too much at once: wait {wait} second{'' if wait == 1 else 's'} and send it again."
        return _said(request, words, HTTPStatus.TOO_MANY_REQUESTS, {"Retry-After": str(wait)})

    async def _with_token(self, request: Request, viewer: Viewer, entry: Entry | None) -> tuple[Response | None, Any]:
        """Read the body whole, look for the form's token in it, and hand it on to be read again."""
        largest = entry.largest if entry else FORM_BYTES
        try:
            body = await asyncio.wait_for(
                _body(request, largest), BODY_SECONDS if largest <= FORM_BYTES else PICTURE_SECONDS
            )
        except TimeoutError:
            return PlainTextResponse("It took too long to arrive.", HTTPStatus.REQUEST_TIMEOUT), request.receive
        if body is None:
            return PlainTextResponse("It did not arrive whole.", HTTPStatus.BAD_REQUEST), request.receive
        if not self._gate.seal.brings_token(viewer.seat, request.headers.get("x-csrf", ""), body):
            words = "The form is from another time or another page: open the page again and send it from there"
            return _refused(request, words), request.receive
        sent = False

        async def again() -> Any:
            nonlocal sent
            if sent:
                return await request.receive()
            sent = True
            return {"type": "http.request", "body": body, "more_body": False}

        return None, again


class _AppSeen:
    """The application as whoever asks may see it: without the people, where it may not know them."""

    def __init__(self, app: Any, viewer: Viewer) -> None:
        self._app = app
        shop = app.state.shop
        self.state = State({**app.state._state, "shop": shop if viewer.contacts else veiled(shop)})

    def __getattr__(self, name: str) -> Any:
        return getattr(self._app, name)


class _Headed:
    """Adds the policy to every answer, and ends the answer to a device that is turned away meanwhile."""

    def __init__(self, send: Any, path: str, gate: Gate, viewer: Viewer) -> None:
        self._send, self._path, self._gate, self._device = send, path, gate, viewer.device
        self._ended = False

    async def __call__(self, message: Any) -> None:
        if self._ended:
            return
        if self._device and self._gate.devices.live(self._device) is None:
            await self._end(message["type"] == "http.response.start")
            return
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("Cache-Control", "max-age=3600" if self._path.startswith("/static/") else "no-store")
        await self._send(message)

    async def _end(self, not_begun: bool) -> None:
        self._ended = True
        if not_begun:
            await self._send({"type": "http.response.start", "status": 401, "headers": []})
        await self._send({"type": "http.response.body", "body": b"", "more_body": False})


async def _body(request: Request, largest: int) -> bytes | None:
    """The body, never more than was said; None when the sender went away."""
    pieces = bytearray()
    while True:
        message = await request.receive()
        if message["type"] != "http.request":
            return None
        pieces += message.get("body", b"")
        if len(pieces) > largest:
            return None
        if not message.get("more_body", False):
            return bytes(pieces)


def _is_api(request: Request) -> bool:
    return request.url.path.startswith("/api/")


def _too_large(request: Request, entry: Entry | None) -> Response | None:
    """A body larger than its place bears, or of a length nobody said."""
    length = request.headers.get("content-length", "0")
    largest = entry.largest if entry else FORM_BYTES
    if not (length.isascii() and length.isdigit()) or int(length) > largest:
        return _said(request, _size_words(largest), HTTPStatus.REQUEST_ENTITY_TOO_LARGE)
    if "transfer-encoding" in request.headers:
        return PlainTextResponse("Say how long it is.", HTTPStatus.LENGTH_REQUIRED)
    return None


def _size_words(largest: int) -> str:
    if largest > FORM_BYTES:
        megabytes = largest // 1_000_000
        return (f"A picture may have {megabytes} MB at most, and nothing was kept: set the camera to smaller pictures, "
                "or let scripts run, then the page makes it small itself.")
    return f"More than {largest // 1000} kB, and nothing was kept: send less at once."


def _foreign(request: Request) -> Response | None:
    """A write that another page sent."""
    if request.method in SAFE_METHODS:
        return None
    origin = request.headers.get("origin")
    site = request.headers.get("sec-fetch-site")
    foreign = origin is not None and urlsplit(origin).netloc != request.headers.get("host")
    if foreign or (origin is None and site not in (None, "same-origin", "none")):
        return PlainTextResponse("Sent from another page.", HTTPStatus.FORBIDDEN)
    return None


def _not_for(request: Request, viewer: Viewer, entry: Entry | None) -> Response | None:
    """Somebody not paired, or a role that does not allow it; what nobody listed is for the bench screen."""
    if entry is None:
        return None if viewer.here else _said(request, "There is no such page.", HTTPStatus.NOT_FOUND)
    if viewer.role is None:
        if entry.unpaired:
            return None
        if _is_api(request) or request.method not in SAFE_METHODS:
            return _said(request, "This device is not paired: open /pair on it first.", HTTPStatus.UNAUTHORIZED)
        return RedirectResponse("/pair", HTTPStatus.SEE_OTHER)
    if not any(viewer.may(act) for act in entry.acts):
        return _refused(request, refusal(viewer, min(entry.acts)).what)
    if entry.here and not viewer.here:
        return _refused(request, "that is done at the bench screen only")
    if entry.names and not viewer.contacts:
        words = "sheets name people, and others on this network can read along: print at the bench screen"
        return _refused(request, words)
    return None


def _refused(request: Request, words: str) -> Response:
    """A refusal as a page, or as a table for a script."""
    error = {"what": words, "where": "", "right": ""}
    if _is_api(request):
        return JSONResponse({"error": error}, HTTPStatus.FORBIDDEN)
    return HTMLResponse(page(request, "refused.html", errors=[error]), HTTPStatus.FORBIDDEN)


def _said(request: Request, words: str, status: int, headers: dict[str, str] | None = None) -> Response:
    """One sentence, in the form the asker reads."""
    if _is_api(request):
        return JSONResponse({"error": {"what": words, "where": "", "right": ""}}, status, headers)
    return PlainTextResponse(words, status, headers)

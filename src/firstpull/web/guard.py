"""What every request must pass: a known host, an origin of our own, a body of bearable size, a strict policy."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable
from urllib.parse import urlsplit

from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
LARGEST_FORM = 64_000
LARGEST_PICTURE = 15_500_000  # the picture itself and what a form adds to it
_PICTURES = re.compile(r"^/job/[^/]+/pictures$")
HEADERS = {
    "Content-Security-Policy": "default-src 'self'; img-src 'self' data:; frame-ancestors 'none'; base-uri 'none'; "
    "form-action 'self'; object-src 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
Next = Callable[[Request], Awaitable[Response]]


async def guard(request: Request, go_on: Next) -> Response:
    """Refuse writes from other origins and oversized bodies; add the policy headers to every answer."""
    refused = _refusal(request)
    response = PlainTextResponse(refused[1], status_code=refused[0]) if refused else await go_on(request)
    for name, value in HEADERS.items():
        response.headers.setdefault(name, value)
    if request.url.path.startswith("/static/"):
        response.headers.setdefault("Cache-Control", "max-age=3600")
    else:
        response.headers.setdefault("Cache-Control", "no-store")
    return response


def _refusal(request: Request) -> tuple[int, str] | None:
    """The status and words of a refusal, when there is one."""
    length = request.headers.get("content-length", "0")
    most = LARGEST_PICTURE if _PICTURES.match(request.url.path) else LARGEST_FORM
    if not length.isdigit() or int(length) > most:
        return 413, f"More than {most} bytes."
    if request.method in SAFE_METHODS:
        return None
    if "transfer-encoding" in request.headers and "content-length" not in request.headers:
        return 411, "Say how long it is."
    origin = request.headers.get("origin")
    site = request.headers.get("sec-fetch-site")
    foreign = origin is not None and urlsplit(origin).netloc != request.headers.get("host")
    if foreign or (origin is None and site not in (None, "same-origin", "none")):
        return 403, "Sent from another page."
    return None

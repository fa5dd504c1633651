"""Listens at the doors: always on this machine, and on the network when that was asked for."""

from __future__ import annotations

import asyncio
import contextlib
import socket
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import uvicorn

from firstpull.base.errors import FirstpullError
from firstpull.web.doors import Door, Through

HERE = "127.0.0.1"
EVERYWHERE = "0.0.0.0"  # noqa: S104  # the network door is opened by a deliberate act only
MOST_AT_ONCE = 100  # connections of the network door; judgement: ten phones and their files


@dataclass(frozen=True, slots=True)
class Papers:
    """The files of a certificate and its key."""

    certificate: Path
    key: Path


class _Beside(uvicorn.Server):
    """A second server, which stops with the first and leaves signals to it."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """None of them."""
        yield


def listen(app: Any, bench: Door, lan: Door | None = None, papers: Papers | None = None) -> None:
    """Serve until stopped; an open stream does not keep it from stopping.

    Raises:
        FirstpullError: a port is taken, or may not be used.
    """
    first = uvicorn.Server(_config(Through(app, bench)))
    here = _socket(HERE, bench.port)
    if lan is None:
        first.run(sockets=[here])
        return
    there = _socket(EVERYWHERE, lan.port)
    files = {"ssl_certfile": papers.certificate, "ssl_keyfile": papers.key} if papers else {}
    second = _Beside(_config(Through(app, lan), lifespan="off", limit_concurrency=MOST_AT_ONCE, **files))
    asyncio.run(_both(first, here, second, there))


async def _both(first: uvicorn.Server, here: socket.socket, second: uvicorn.Server, there: socket.socket) -> None:
    beside = asyncio.create_task(second.serve(sockets=[there]))
    await first.serve(sockets=[here])
    second.should_exit = True
    await beside


def _config(app: Any, **more: Any) -> uvicorn.Config:
    return uvicorn.Config(
        app, log_level="warning", timeout_graceful_shutdown=1, proxy_headers=False, server_header=False, **more
    )


def _socket(host: str, port: int) -> socket.socket:
    try:
        return socket.create_server((host, port))
    except OSError as error:
        what = f"port {port} cannot be used [{error.strerror}]"
        raise FirstpullError(what, host, "another one, by --port") from error

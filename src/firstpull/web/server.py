"""Serves one workshop on this machine only."""

from __future__ import annotations

import uvicorn

from firstpull.bench.shop import Shop
from firstpull.bench.thinking.seen import think_in_workers
from firstpull.web.app import make_app

HOST = "127.0.0.1"


def run(shop: Shop, port: int) -> None:
    """Serve until stopped, with workers that reckon; an open stream does not keep it from stopping."""
    pool = think_in_workers(shop)
    try:
        uvicorn.run(make_app(shop), host=HOST, port=port, log_level="warning", timeout_graceful_shutdown=1)
    finally:
        pool.close()

"""Serves one workshop on this machine, and through the network door when there is one."""

from __future__ import annotations

from firstpull.bench.shop import Shop
from firstpull.bench.thinking.seen import think_in_workers
from firstpull.web.app import make_app
from firstpull.web.gate import Gate
from firstpull.web.listening import Papers, listen


def run(shop: Shop, gate: Gate, papers: Papers | None = None) -> None:
    """Serve until stopped, with workers that reckon; an open stream does not keep it from stopping."""
    pool = think_in_workers(shop)
    try:
        listen(make_app(shop, gate=gate), gate.bench, gate.lan, papers)
    finally:
        pool.close()

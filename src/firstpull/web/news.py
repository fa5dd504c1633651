"""Waiting for news of a job without holding a thread."""

from __future__ import annotations

import asyncio
import contextlib

from starlette.concurrency import run_in_threadpool

from firstpull.bench.shop import Shop
from firstpull.bench.thinking.seen import see

WAIT_SECONDS = 20.0


async def newer(shop: Shop, job: str, after: str, seconds: float = WAIT_SECONDS) -> bool:
    """Whether there is more to see of a job than `after`, waiting for it so long; at once where nobody reckons.

    Raises:
        InputError: there is no such job.
    """
    pool = shop.pool
    if pool is None:
        return True
    loop = asyncio.get_running_loop()
    came = asyncio.Event()

    def tell() -> None:
        with contextlib.suppress(RuntimeError):  # the server has stopped meanwhile
            loop.call_soon_threadsafe(came.set)

    pool.listen(job, tell)
    try:
        ends = loop.time() + seconds
        while True:
            came.clear()
            record = await run_in_threadpool(shop.record, job)
            now = await run_in_threadpool(see, pool, shop, record)
            if now.news != after:
                return True
            try:
                await asyncio.wait_for(came.wait(), ends - loop.time())
            except TimeoutError:
                return False
    finally:
        pool.unlisten(job, tell)

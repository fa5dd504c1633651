"""The sum that was agreed on a job, and whether another one goes beyond it."""

from __future__ import annotations

from firstpull.base.errors import FirstpullError
from firstpull.bench.billing import agreed_on
from firstpull.bench.ourselves import ourselves, read_sum
from firstpull.bench.shop import Shop


def over_limit(shop: Shop, job: str, text: str) -> bool:
    """Whether a sum as typed is more than what stands agreed; what is no sum is refused elsewhere.

    Raises:
        InputError: there is no such job.
    """
    agreed = agreed_on(shop.record(job)).limit
    if agreed is None or not text.strip():
        return False
    try:
        asked = read_sum(text, ourselves(shop).currency, "sum")
    except FirstpullError:
        return False
    return asked > agreed

"""The instruments of the shop: what is here, and what is not proposed because it is not."""

from __future__ import annotations

from collections.abc import Iterable

from firstpull.base.errors import InputError
from firstpull.bench.shop import OWNED_KEY, Shop
from firstpull.handbook.findings import nearest


def owned(shop: Shop) -> frozenset[str]:
    """The instruments at hand: as the shop said, else the usual ones. Eye, hand, ear and nose are always there."""
    instruments = shop.room.book.instruments
    said = shop.store.get_setting(OWNED_KEY)
    bare = {i for i, tool in instruments.items() if tool.bare}
    if said is None:
        return frozenset(bare | {i for i, tool in instruments.items() if tool.usual})
    return frozenset(bare | {str(i) for i in said if i in instruments})


def set_owned(shop: Shop, tools: Iterable[str]) -> None:
    """Say which instruments the shop has; live jobs are reckoned again.

    Raises:
        InputError: the handbook does not know one of them; nothing is changed then.
    """
    wanted = frozenset(tools)
    for name in sorted(wanted):
        if name not in shop.room.book.instruments:
            raise InputError(f"unknown instrument '{name}'", "instrument", nearest(name, shop.room.book.instruments))
    shop.store.put_setting(OWNED_KEY, sorted(wanted))
    shop.forget_live()


def do_without(shop: Shop, tool: str) -> None:
    """The shop has no such instrument: checks that need it are proposed no more, on any job.

    Raises:
        InputError: the handbook does not know it, or it is an eye, a hand, an ear or a nose.
    """
    instruments = shop.room.book.instruments
    if tool not in instruments or instruments[tool].bare:
        raise InputError(f"'{tool}' is not an instrument", "tool", nearest(tool, instruments))
    set_owned(shop, owned(shop) - {tool})

"""What must be read or renewed before a repair may be done, and whether this shop can."""

from __future__ import annotations

from firstpull.handbook.entries import Repair
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.acts import Act, ReadingAct, RepairAct
from firstpull.reasoning.options import Option, check_options, repair_option
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.sifting import owned


def missing(book: ClassBook, prices: Prices, acts: tuple[Act, ...], repair: Repair) -> tuple[Option, ...] | None:
    """Steps that a repair still waits for, in their order; None when the shop cannot do one of them.

    A check the shop has no instrument for, or has ruled out, is answered by the repair named instead of it, if any.

    Args:
        book: the handbook of the class [1], scalar.
        prices: the shop's instruments and what it ruled out [1], scalar.
        acts: what was done on this job [1], scalar.
        repair: the repair [1], scalar.

    Returns:
        Options, each the quickest way of doing that step [1], scalar.

    Valid: repairs of the class.
    Source: definition.
    """
    read = {a.check for a in acts if isinstance(a, ReadingAct)}
    renewed = {a.repair for a in acts if isinstance(a, RepairAct) and a.by == "shop"}
    found: list[Option] = []
    for name in repair.after:
        other = repair.instead.get(name)
        if name in read or name not in book.checks or other in renewed:
            continue
        check = book.checks[name]
        if name not in prices.masked and owned(book, prices, check.instrument):
            found.append(min(check_options(book, check), key=lambda option: option.minutes))
        elif other is not None and other in book.repairs and other not in prices.masked:
            found.append(repair_option(book, book.repairs[other]))
        else:
            return None
    return tuple(found)

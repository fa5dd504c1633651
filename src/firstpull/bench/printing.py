"""Sheets on paper from a job's record. Nothing is invented: what nobody recorded is a blank or "not recorded"."""

from __future__ import annotations

from collections.abc import Callable
from typing import get_args

from firstpull import paper as press
from firstpull.base.errors import InputError
from firstpull.bench.paperwork import counter, leaving, money, unfetched, working
from firstpull.bench.paperwork.charting import chart
from firstpull.bench.paperwork.file import JobFile, job_file
from firstpull.bench.shop import Shop
from firstpull.handbook.findings import nearest

SHEETS: dict[str, Callable[[JobFile], press.Sheet]] = {
    "tag": counter.tag,
    "receipt": counter.receipt,
    "estimate": money.estimate,
    "approval": money.approval,
    "work-sheet": working.work_sheet,
    "bill": money.bill,
    "hand-over": leaving.hand_over,
    "returned": leaving.returned,
    "abandoned": unfetched.abandoned,
    "chart": chart,
}
KINDS = tuple(SHEETS)
PAPERS: tuple[str, ...] = get_args(press.Paper)


def sheet_of(shop: Shop, job: str, kind: str) -> press.Sheet:
    """A sheet as plain values, before it is set.

    Raises:
        InputError: there is no such job or kind of sheet.
        RefusedError: the record does not (yet) hold what the sheet would say.
    """
    if kind not in SHEETS:
        raise InputError(f"no sheet is called '{kind}'", "print", nearest(kind, KINDS))
    return SHEETS[kind](job_file(shop, job))


def print_sheet(shop: Shop, job: str, kind: str, paper: str = "a4") -> bytes:
    """A sheet of a job as PDF bytes, on "a4" or "letter". Nothing is kept.

    For a page: `kind` is one of `KINDS`; send the bytes as `application/pdf` under `file_name`. A `RefusedError` says
    in one sentence what is still missing in the record, so that a page may show it beside the button.

    Raises:
        FirstpullError: as `sheet_of`, or the paper is not known.
    """
    if paper not in PAPERS:
        raise InputError(f"no paper is called '{paper}'", "print", " or ".join(PAPERS))
    return press.render(sheet_of(shop, job, kind), "letter" if paper == "letter" else "a4")


def file_name(job: str, kind: str) -> str:
    """The name of a sheet's file, safe on every system."""
    safe = "".join(c if c.isascii() and c.isalnum() else "-" for c in job)
    return f"job-{safe}-{kind}.pdf"

"""From a sheet to a tagged PDF: picks the template, hands the data over as JSON, and loses no letter on the way."""

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict
from functools import partial
from pathlib import Path
from typing import Any, Literal

import typst

from firstpull.base.errors import FirstpullError
from firstpull.paper import letters, sheets
from firstpull.paper.chart_page import wall_charts
from firstpull.paper.square_code import square_code

Paper = Literal["a4", "letter"]
Sheet = (
    sheets.Tag
    | sheets.Receipt
    | sheets.Estimate
    | sheets.ApprovalSlip
    | sheets.WorkSheet
    | sheets.Bill
    | sheets.HandOver
    | sheets.Returned
    | sheets.AbandonedNotice
    | sheets.BenchChart
)

_HERE = Path(__file__).parent
_TEMPLATES = _HERE / "templates"
_PAGE = {"a4": "a4", "letter": "us-letter"}
_TEMPLATE_OF: dict[type, str] = {
    sheets.Tag: "tag",
    sheets.Receipt: "receipt",
    sheets.Estimate: "estimate",
    sheets.ApprovalSlip: "approval",
    sheets.WorkSheet: "work",
    sheets.Bill: "bill",
    sheets.HandOver: "handover",
    sheets.Returned: "returned",
    sheets.AbandonedNotice: "abandoned",
    sheets.BenchChart: "chart",
}
_ROUNDS = 40
Pictures = Callable[[Callable[[str], bool]], Mapping[str, str]]


def render(sheet: Sheet, paper: Paper = "a4") -> bytes:
    """A sheet as PDF/UA-1 bytes; the same sheet gives the same bytes.

    Raises:
        FirstpullError: if the sheet or the paper is not one this room knows.
    """
    template = _TEMPLATE_OF.get(type(sheet))
    if template is None:
        known = ", ".join(sorted(kind.__name__ for kind in _TEMPLATE_OF))
        raise FirstpullError(f"{type(sheet).__name__} is not a sheet", "paper", f"one of {known}")
    if paper not in _PAGE:
        raise FirstpullError(f"no paper is called {paper}", "paper", "a4 or letter")
    if isinstance(sheet, sheets.BenchChart):
        return _press(template, asdict(sheet), paper, partial(wall_charts, sheet, paper))
    values = asdict(sheet)
    link = values.get("link")
    code = {"code": square_code(link) if link else ""}
    return _press(template, values, paper, lambda lacking: code)


def _press(template: str, values: dict[str, Any], paper: str, pictures: Pictures) -> bytes:
    """Fonts that come with the tool first; then those of the system; then boxes for what is still lacking."""
    tidy, notes = letters.boxed(values, letters.shapeless)
    for system_fonts in (False, True):
        try:
            return _compile(template, tidy, notes, paper, pictures(letters.shapeless), system_fonts)
        except typst.TypstError as error:
            lacking = letters.refused_letters(str(error))
            if not lacking:
                raise
    all_letters = set(json.dumps(values, ensure_ascii=False))
    lacking |= _lacking(all_letters)
    for _ in range(_ROUNDS):
        lost = lacking | set(filter(letters.shapeless, all_letters))
        tidy, notes = letters.boxed(values, lost.__contains__)
        try:
            return _compile(template, tidy, notes, paper, pictures(lost.__contains__), True)
        except typst.TypstError as error:
            found = letters.refused_letters(str(error)) - lacking
            if not found:
                raise
            lacking |= found
    raise FirstpullError("the fonts lack too many letters", "paper", "install fonts for this script")


def _lacking(all_letters: set[str]) -> set[str]:
    """The letters no font on this machine has, asked of all letters of a sheet at once."""
    asked = sorted(letter for letter in all_letters if letter > "~" and not letters.shapeless(letter))
    lacking: set[str] = set()
    for _ in range(_ROUNDS):
        left = " ".join(letter for letter in asked if letter not in lacking)
        try:
            _typeset("probe", {"letters": left}, True)
        except typst.TypstError as error:
            found = letters.refused_letters(str(error)) - lacking
            if not found:
                raise
            lacking |= found
        else:
            break
    return lacking


def _compile(
    template: str, values: dict[str, Any], notes: list[str], paper: str, more: Mapping[str, str], system_fonts: bool
) -> bytes:
    inputs = {
        "sheet": json.dumps(values, ensure_ascii=False),
        "lacking": json.dumps(notes, ensure_ascii=False),
        "paper": _PAGE[paper],
        **more,
    }
    return _typeset(template, inputs, system_fonts)


def _typeset(template: str, inputs: dict[str, str], system_fonts: bool) -> bytes:
    made = typst.compile(
        str(_TEMPLATES / f"{template}.typ"),
        root=str(_TEMPLATES),
        font_paths=[str(_HERE / "fonts")],
        ignore_system_fonts=not system_fonts,
        format="pdf",
        pdf_standards=["ua-1"],
        timestamp=0,
        sys_inputs=inputs,
    )
    assert isinstance(made, bytes)
    return made

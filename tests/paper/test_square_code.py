"""The square code on a tag is sound SVG, quiet around, and another link is another code."""

import xml.etree.ElementTree as ET

from firstpull.paper.square_code import square_code


def test_a_link_becomes_a_square_picture_with_its_quiet_space() -> None:
    picture = ET.fromstring(square_code("http://127.0.0.1:8765/jobs/417"))
    wide, high = int(picture.attrib["width"]), int(picture.attrib["height"])
    assert wide == high
    # A code has 17 + 4 n modules a side (ISO/IEC 18004) and four quiet ones on either side.
    assert (wide - 8 - 17) % 4 == 0


def test_another_job_has_another_code() -> None:
    assert square_code("http://127.0.0.1/jobs/1") != square_code("http://127.0.0.1/jobs/2")
    assert square_code("http://127.0.0.1/jobs/1") == square_code("http://127.0.0.1/jobs/1")

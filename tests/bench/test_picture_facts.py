"""A picture is kept without what the camera wrote beside it, and still shows the same."""

from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from firstpull.base.errors import InputError
from firstpull.bench.picture_facts import LARGEST, bare_picture

SECRET = b"Harrow Vale, behind the cart shed"


def made(form: str, way_up: int = 1) -> bytes:
    """A small picture with a place, a maker and a way up written in it."""
    picture = Image.new("RGB", (24, 16), (200, 30, 30))
    picture.paste((30, 30, 200), (0, 0, 12, 16))
    facts = Image.Exif()
    facts[0x0112] = way_up
    facts[0x010E] = SECRET.decode()
    out = io.BytesIO()
    picture.save(out, form, exif=facts)
    return out.getvalue()


@pytest.mark.parametrize(("form", "type_"), [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("WEBP", "image/webp")])
def test_what_the_camera_wrote_goes_and_every_point_of_the_picture_stays(form: str, type_: str) -> None:
    whole = made(form)
    assert SECRET in whole
    bare, found = bare_picture(whole)
    assert found == type_
    assert SECRET not in bare
    before, after = Image.open(io.BytesIO(whole)), Image.open(io.BytesIO(bare))
    assert list(before.convert("RGB").tobytes()) == list(after.convert("RGB").tobytes())


@pytest.mark.parametrize("way_up", range(1, 9))
def test_a_camera_held_sideways_still_gives_an_upright_picture(way_up: int) -> None:
    bare, _ = bare_picture(made("JPEG", way_up))
    assert Image.open(io.BytesIO(bare)).getexif().get(0x0112, 1) == way_up
    assert SECRET not in bare


def test_what_is_no_picture_or_too_large_or_breaks_off_is_refused() -> None:
    jpeg = made("JPEG")
    for wrong in (b"", b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"GIF89a", b"%PDF-1.7", jpeg[:30],
                  made("PNG")[:40], jpeg + b"\x00" * LARGEST):
        with pytest.raises(InputError):
            bare_picture(wrong)


@given(st.integers(0, 400), st.binary(max_size=12), st.sampled_from(["JPEG", "PNG", "WEBP"]))
def test_bytes_changed_anywhere_are_kept_or_refused_and_nothing_else_happens(at: int, put: bytes, form: str) -> None:
    data = made(form)
    broken = data[:at] + put + data[at + len(put):]
    try:
        bare, _ = bare_picture(broken)
    except InputError:
        return
    assert len(bare) <= len(broken) + 40

"""Every sheet prints on both papers, with all it was handed, tagged, and the same each time."""

import io
import re
from dataclasses import replace
from itertools import pairwise
from typing import Any, cast

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from firstpull import paper
from firstpull.base.errors import FirstpullError
from tests.bench.test_picture_facts import made
from tests.paper import harrow_vale_sheets as vale
from tests.paper.reading import alternatives, bare, lettering, read, tags, texts_of

SHEETS = vale.SHEETS


def hidden_in(sheet: paper.Sheet) -> set[str]:
    """What this sheet has no place for: the owner's name and the bench hand stand only where they are needed."""
    unused = {"tag": {"at_bench"}, "other": {"owner"}}["tag" if isinstance(sheet, paper.Tag) else "other"]
    return {getattr(sheet.head, name) for name in unused} - {None}


@pytest.mark.parametrize("size", ["a4", "letter"])
@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_shows_all_it_was_handed_on_either_paper(name: str, size: paper.Paper) -> None:
    sheet = SHEETS[name]
    pdf = paper.render(sheet, size)
    shown = lettering(pdf)
    lost = [text for text in texts_of(sheet) if bare(text) not in shown and text not in hidden_in(sheet)]
    assert lost == []
    box = read(pdf).pages[0].mediabox
    assert sorted([float(box.width), float(box.height)]) == pytest.approx(
        {"a4": [595.3, 841.9], "letter": [612.0, 792.0]}[size], abs=0.5
    )


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_is_tagged_for_a_screen_reader(name: str) -> None:
    pdf = paper.render(SHEETS[name])
    root: Any = read(pdf).root_object
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    about = read(pdf).metadata
    assert about is not None
    assert SHEETS[name].head.machine in str(about.title)
    kinds = tags(pdf)
    assert "/H1" in kinds
    if name in ("estimate", "bill", "hand-over", "returned", "abandoned"):
        assert {"/Table", "/TH", "/TD"} <= kinds
    if name in ("tag", "receipt", "chart"):
        assert "/Figure" in kinds


@pytest.mark.parametrize("name", SHEETS)
def test_the_same_sheet_is_the_same_bytes(name: str) -> None:
    assert paper.render(SHEETS[name]) == paper.render(SHEETS[name])


def test_the_language_of_a_sheet_is_told() -> None:
    sheet = replace(vale.HAND_OVER, head=replace(vale.MOWER, lang="de"))
    root: Any = read(paper.render(sheet)).root_object
    assert root["/Lang"] == "de"


def test_a_long_bill_repeats_its_header_and_carries_its_sum() -> None:
    lines = tuple(
        paper.PriceLine(f"Part {n}", f"${n}.00", running=f"${n * (n + 1) // 2}.00", quantity="1") for n in range(1, 201)
    )
    pdf = paper.render(replace(vale.BILL, lines=lines))
    pages = [page.extract_text() for page in read(pdf).pages]
    assert len(pages) > 3
    assert all(f"Part {n}" in "\n".join(pages) for n in range(1, 201))
    turned = [(before, after) for before, after in pairwise(pages) if "Carried forward" in after]
    assert len(turned) >= 3
    for before, after in turned:
        assert "How many" in after
        last = max(int(n) for n in re.findall(r"Part (\d+)", before))
        carried = f"${last * (last + 1) // 2}.00"
        assert carried in after
    assert "Carried forward" not in pages[0]


def test_missing_facts_are_said_to_be_missing_on_a_statement_and_left_blank_on_a_form() -> None:
    head = paper.Head(vale.SHOP, "500", "Tiller")
    assert bare("not recorded") in lettering(paper.render(paper.HandOver(head)))
    receipt = lettering(paper.render(paper.Receipt(head, owner=(paper.Fact("Name"),))))
    assert "Name" in receipt
    assert bare("not recorded") not in receipt
    assert "None" not in receipt


@pytest.mark.parametrize("kind", [type(sheet) for sheet in SHEETS.values() if not isinstance(sheet, paper.BenchChart)])
def test_a_sheet_with_nothing_but_a_head_still_prints(kind: type) -> None:
    head = paper.Head(paper.Shop("Bench"), "1", "Saw")
    more = {"approves": "to find"} if kind is paper.ApprovalSlip else {}
    assert "Saw" in lettering(paper.render(kind(head, **more)))


def test_words_longer_than_a_line_are_broken_and_stay_inside_the_frame() -> None:
    serial = "SERIAL" + "0123456789" * 30
    sheet = replace(vale.HAND_OVER, renewed=(paper.Renewed(serial, serial, "new", serial),), headline=serial)
    pdf = paper.render(sheet)
    assert serial in lettering(pdf)
    rights: list[float] = []
    for page in read(pdf).pages:
        page.extract_text(visitor_text=lambda text, cm, tm, font, size: rights.append(cm[4] + tm[4]))
    assert max(rights) < float(read(pdf).pages[0].mediabox.width) - 28


def test_very_long_texts_flow_over_pages_and_lose_nothing() -> None:
    long = " ".join(f"word{n}" for n in range(3000))
    pdf = paper.render(replace(vale.HAND_OVER, wrong=(long,)))
    assert len(read(pdf).pages) > 3
    raw = "\n".join(page.extract_text() for page in read(pdf).pages)
    assert re.findall(r"word\d+", raw) == long.split()


def test_markup_and_paths_in_a_text_are_only_letters() -> None:
    nasty = '#panic("no") $x^2$ *bold* `raw` <b>&amp; \\u{41} ../../etc // /* "'
    assert bare(nasty) in lettering(paper.render(replace(vale.HAND_OVER, headline=nasty)))


def test_what_is_no_sheet_or_no_paper_is_refused_with_what_would_be_right() -> None:
    with pytest.raises(FirstpullError, match="one of AbandonedNotice"):
        paper.render(cast(Any, "a sheet"))
    with pytest.raises(FirstpullError, match="a4 or letter"):
        paper.render(vale.HAND_OVER, cast(Any, "a3"))


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(max_size=60), st.text(max_size=60))
def test_any_text_at_all_prints(first: str, second: str) -> None:
    sheet = replace(
        vale.BILL,
        lines=(paper.PriceLine(first, second, detail=second, running=first),),
        head=replace(vale.MOWER, complaint=first, owner=second),
    )
    assert paper.render(sheet).startswith(b"%PDF-")


# Some rarer accented letters are drawn as letter and accent, and the reader used here gives such a letter twice.
LATIN = st.characters(min_codepoint=33, max_codepoint=0xFF, categories=("L", "N")) | st.sampled_from("ŁłŽžŠšŐőŰűĄąĘęŞş")


@settings(max_examples=12, deadline=None)
@given(st.text(LATIN, min_size=1, max_size=80))
def test_any_latin_text_is_found_again(text: str) -> None:
    assert text in lettering(paper.render(replace(vale.HAND_OVER, fuel=text)))


def test_a_long_head_leaves_the_first_page_to_the_sheet() -> None:
    shop = paper.Shop("The Harrow Vale and Lower Weir community tool library and repair bench", ("A lane",) * 4)
    head = paper.Head(shop, "2026-000417-B", "Two-stage snow blower " * 4, "It surges and stops on slopes, " * 4)
    first = read(paper.render(replace(vale.WORK, head=head))).pages[0].extract_text()
    assert bare("Spark at the tester, stop lead off") in bare(first)


def test_two_slips_that_do_not_fit_on_one_page_have_a_page_each() -> None:
    work = tuple(f"Renew part {n}" for n in range(20))
    pages = [bare(page.extract_text()) for page in read(paper.render(replace(vale.APPROVAL, work=work))).pages]
    assert len(pages) == 2
    assert all(bare(f"Renew part {n}") in page for n in range(20) for page in pages)


def test_a_photo_on_the_hand_over_sheet_is_drawn_with_its_words_and_says_them_to_whoever_cannot_see_it() -> None:
    shows = "The chafed stop lead, 11 April 2026"
    photos = (paper.Picture(made("JPEG"), shows), paper.Picture(made("JPEG", way_up=6), "The old coil"))
    pdf = paper.render(replace(vale.HAND_OVER, pictures=photos))
    assert bare("Pictures of it") in lettering(pdf)
    assert bare(shows) in lettering(pdf)
    assert alternatives(pdf) == [shows, "The old coil"]
    sizes = sorted(image.image.size for page in read(pdf).pages for image in page.images if image.image)
    assert sizes == [(24, 16), (24, 16)]


def test_without_a_photo_the_sheet_has_no_word_of_pictures() -> None:
    pdf = paper.render(vale.HAND_OVER)
    assert "Pictures" not in lettering(pdf)
    assert alternatives(pdf) == []


def test_a_photo_weighs_on_paper_little_more_than_it_weighs() -> None:
    out = io.BytesIO()
    Image.effect_noise((1600, 1200), 60).convert("RGB").save(out, "JPEG", quality=40)
    photo = out.getvalue()
    bare_sheet = len(paper.render(vale.HAND_OVER))
    with_photo = len(paper.render(replace(vale.HAND_OVER, pictures=(paper.Picture(photo, "Noise"),))))
    assert len(photo) < with_photo - bare_sheet < len(photo) + 20_000

"""The strategy tree: everything on it, nothing overlapping, cut into legible charts when it is large."""

import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstpull import paper
from firstpull.paper.chart import in_words
from firstpull.paper.chart_cut import parts_that_fit, scale_of
from firstpull.paper.chart_layout import CARD, lay_out, text_width, wrap
from tests.paper import harrow_vale_chart as vale
from tests.paper.reading import bare, lettering, read, texts_of

SVG = "{http://www.w3.org/2000/svg}"


def grown(depth: int, width: int, path: str = "s") -> paper.Node:
    """A tree with the same number of outcomes at every step."""
    outcomes = range(width if depth else 0)
    branches = tuple(
        paper.Branch(f"outcome {n}", grown(depth - 1, width, f"{path}{n}"), f"{n} in 10") for n in outcomes
    )
    return paper.Node(f"Step {path}", minutes="3 min", branches=branches)


texts = st.text(st.characters(categories=("L", "N", "P", "Zs")), max_size=60)
nodes = st.recursive(
    st.builds(paper.Node, texts, minutes=st.none() | texts, caution=st.none() | texts, note=st.none() | texts),
    lambda inner: st.builds(
        paper.Node,
        texts,
        note=st.none() | texts,
        branches=st.lists(st.builds(paper.Branch, texts, inner, st.none() | texts), max_size=4).map(tuple),
    ),
    max_leaves=12,
)


def lettered(svg: str) -> str:
    """All drawn text of a picture, without spaces."""
    return bare("".join(text.text or "" for text in ET.fromstring(svg).iter(f"{SVG}text")))


def test_all_words_of_a_tree_are_drawn_and_also_said() -> None:
    svg = paper.chart_svg(vale.NO_SPARK)
    said = in_words(vale.NO_SPARK)
    for text in texts_of(vale.NO_SPARK):
        assert bare(text) in lettered(svg)
        assert text in said
    assert "dark (62 in 100): go to" in said
    assert ET.fromstring(svg).find(f"{SVG}desc") is not None


@settings(max_examples=60, deadline=None)
@given(nodes)
def test_no_two_cards_overlap_and_all_is_inside_the_picture(root: paper.Node) -> None:
    drawing = lay_out(root)
    for one, other in combinations(drawing.cards, 2):
        beside = one.x + CARD <= other.x or other.x + CARD <= one.x
        above = one.y + one.height <= other.y + 1e-6 or other.y + other.height <= one.y + 1e-6
        assert beside or above
    assert all(card.y >= 0 and card.y + card.height <= drawing.height + 1e-6 for card in drawing.cards)
    assert all(0 < words.y <= drawing.height for words in drawing.words)


@settings(max_examples=60, deadline=None)
@given(nodes)
def test_a_picture_is_sound_xml_whatever_is_written_on_it(root: paper.Node) -> None:
    assert ET.fromstring(paper.chart_svg(root)).tag == f"{SVG}svg"


def test_control_characters_do_not_break_a_picture() -> None:
    svg = paper.chart_svg(paper.Node("a\x00<&>\x1bb"))
    assert "a□<&>□b" in lettered(svg)


@given(st.text(max_size=200), st.floats(20, 400))
def test_lines_are_no_wider_than_their_room_and_lose_no_letter(text: str, room: float) -> None:
    lines = wrap(text, 12, room)
    assert bare("".join(lines)) == bare(text)
    assert all(text_width(line, 12) <= room or len(line.strip()) <= 1 for line in lines)


@pytest.mark.parametrize("size", ["a4", "letter"])
def test_a_tree_too_large_for_one_page_goes_on_in_numbered_charts(size: paper.Paper) -> None:
    tree = grown(4, 3)
    pdf = paper.render(replace(vale.CHART, root=tree), size)
    assert len(read(pdf).pages) > 3
    shown = lettering(pdf)
    assert all(bare(text) in shown for text in texts_of(tree))
    assert bare("Goes on in chart 2.") in shown
    assert bare("Chart 2: ") in shown


def test_every_cut_chart_is_legible_and_every_step_is_on_one() -> None:
    tree = grown(5, 2)
    charts = parts_that_fit(tree, 700, 360, 0.5)
    assert all(scale_of(lay_out(chart), 700, 360) >= 0.5 for chart in charts)
    drawn = {text for chart in charts for text in texts_of(chart)}
    assert set(texts_of(tree)) <= drawn
    numbers = [text for chart in charts for text in texts_of(chart) if text.startswith("Goes on in chart")]
    assert sorted(numbers) == sorted(f"Goes on in chart {n}." for n in range(2, len(charts) + 1))


def test_a_chart_number_names_the_chart_it_points_to() -> None:
    charts = parts_that_fit(grown(5, 2), 700, 360, 0.5)

    def stubs(node: paper.Node) -> list[paper.Node]:
        here = [node] if node.note and node.note.startswith("Goes on") else []
        return here + [stub for branch in node.branches for stub in stubs(branch.to)]

    for chart in charts:
        for stub in stubs(chart):
            number = int("".join(letter for letter in str(stub.note) if letter.isdigit()))
            assert charts[number - 1].title == stub.title

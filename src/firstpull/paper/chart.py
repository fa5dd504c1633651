"""A strategy as a drawing: SVG for the screen and the wall, and the same in words for those who cannot see it."""

from dataclasses import replace
from xml.sax.saxutils import escape

from firstpull.paper import letters
from firstpull.paper.chart_layout import CARD, PAD, Card, Words, lay_out
from firstpull.paper.parts import Node

_TONES = {"ink": "#1F2428", "lead": "#4A5157", "danger": "#A81E14"}
_EDGES = {"repair": 'stroke-width="2.6"', "stop": 'stroke-width="1.4" stroke-dasharray="5 3"'}
_FACES = "Barlow Semi Condensed, DIN Alternate, Bahnschrift, Roboto Condensed, DejaVu Sans Condensed, sans-serif"


def chart_svg(tree: Node) -> str:
    """A tree of steps as one SVG picture; a page may restyle its classes ink, lead, danger, card and link."""
    tidy = with_boxes(tree, frozenset(letter for letter in in_words(tree) if letters.shapeless(letter)))
    drawing = lay_out(tidy)
    width, height = round(drawing.width, 1), round(drawing.height, 1)
    size = f'viewBox="0 0 {width} {height}" width="{width}" height="{height}"'
    face = f'font-family="{_FACES}" font-stretch="semi-condensed"'
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img" {face}>',
        f"<title>{escape(tidy.title)}</title><desc>{escape(in_words(tidy))}</desc>",
    ]
    parts += [_link(points) for points in drawing.lines]
    parts += [_card(card) for card in drawing.cards]
    parts += [_words(words) for words in drawing.words]
    return "\n".join([*parts, "</svg>"])


def in_words(tree: Node) -> str:
    """The tree as numbered sentences, each outcome naming the step it leads to."""
    order: list[Node] = []

    def number(node: Node) -> None:
        order.append(node)
        for branch in node.branches:
            number(branch.to)

    number(tree)
    place = {id(node): at for at, node in enumerate(order, 1)}
    said = []
    for node in order:
        told = [f"{place[id(node)]}. {node.title}", node.minutes, node.caution, node.note]
        told += [
            f"{branch.outcome}{f' ({branch.share})' if branch.share else ''}: go to {place[id(branch.to)]}"
            for branch in node.branches
        ]
        said.append("; ".join(text for text in told if text) + ".")
    return " ".join(said)


def with_boxes(tree: Node, lacking: frozenset[str]) -> Node:
    """The tree with a box for every letter that is lacking."""

    def tidy(text: str | None) -> str | None:
        return None if text is None else str(letters.boxed(text, lacking)[0])

    branches = tuple(
        replace(
            branch,
            outcome=str(tidy(branch.outcome)),
            share=tidy(branch.share),
            to=with_boxes(branch.to, lacking),
        )
        for branch in tree.branches
    )
    return replace(
        tree,
        title=str(tidy(tree.title)),
        minutes=tidy(tree.minutes),
        caution=tidy(tree.caution),
        note=tidy(tree.note),
        branches=branches,
    )


def _link(points: tuple[tuple[float, float], ...]) -> str:
    way = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    return f'<polyline class="link" points="{way}" fill="none" stroke="{_TONES["ink"]}" stroke-width="1.2"/>'


def _card(card: Card) -> str:
    """A check has a thin edge, a repair a heavy one, a stop a dashed one; each also says what it is in words."""
    edge = _EDGES.get(card.kind, 'stroke-width="1.2"')
    shape = (
        f'<rect class="card" x="{card.x:.1f}" y="{card.y:.1f}" width="{CARD}" height="{card.height:.1f}"'
        f' fill="#FFFFFF" stroke="{_TONES["ink"]}" {edge}/>'
    )
    if card.caution is None:
        return shape
    top, end = card.caution
    return (
        f'{shape}<rect class="danger" x="{card.x + PAD:.1f}" y="{top:.1f}" width="3.5" height="{end - top:.1f}"'
        f' fill="{_TONES["danger"]}"/>'
    )


def _words(words: Words) -> str:
    weight = ' font-weight="600"' if words.bold else ""
    anchor = ' text-anchor="end"' if words.anchor == "end" else ""
    return (
        f'<text class="{words.tone}" x="{words.x:.1f}" y="{words.y:.1f}" font-size="{words.size}"'
        f' fill="{_TONES[words.tone]}"{weight}{anchor}>{escape(words.text)}</text>'
    )

"""Where each card of a strategy tree stands, and how its words break into lines."""

import unicodedata
from dataclasses import dataclass, replace

from firstpull.paper.parts import Branch, Node

CARD = 212.0
GAP = 104.0
PAD = 8.0
BETWEEN = 9.0
LEADING = 1.24

TITLE, SMALL, OUTCOME = 14.5, 11.5, 13.0

# Widths in thousandths of an em, rounded up from a wide sans of the kind a browser may fall back to, so that words
# fit whatever face is at hand. Measured from the bold condensed cut of a free sans; other letters are taken as wide.
_WIDTHS = {
    350: " ,./IJ\\ijl|'",
    450: "-:;f!()[]_`rt",
    550: '"*?csz',
    650: "Lkvxy$0123456789EFSTabdeghnopqu{}",
    750: "ABCKPRVXYZDGU",
    850: "#&+<=>HNOQ^~w",
    1000: "@M%mW",
}
_WIDTH_OF = {letter: width / 1000 for width, letters in _WIDTHS.items() for letter in letters}
_LABELS = {"check": "Check", "repair": "Repair", "access": "Off or on", "ask": "Ask", "stop": "Stop"}


@dataclass(frozen=True)
class Words:
    """One line of lettering at its place: baseline at ``y``."""

    x: float
    y: float
    text: str
    size: float
    tone: str = "ink"
    bold: bool = False
    anchor: str = "start"


@dataclass(frozen=True)
class Card:
    """A step at its place."""

    kind: str
    x: float
    y: float
    height: float
    caution: tuple[float, float] | None


@dataclass(frozen=True)
class Drawing:
    """A whole chart: cards, connecting lines and lettering, inside ``width`` by ``height``."""

    width: float
    height: float
    cards: tuple[Card, ...]
    lines: tuple[tuple[tuple[float, float], ...], ...]
    words: tuple[Words, ...]


def text_width(text: str, size: float) -> float:
    """The width a text may need at a lettering size, on the generous side."""
    ems = 0.0
    for letter in text:
        if unicodedata.east_asian_width(letter) in "WF":
            ems += 1.0
        else:
            ems += 0.0 if unicodedata.combining(letter) else _WIDTH_OF.get(letter, 0.8)
    return ems * size


def wrap(text: str, size: float, room: float) -> list[str]:
    """The text in lines no wider than the room; a word too long for a line is broken."""
    lines: list[str] = []
    for word in text.split():
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(joined, size) <= room:
            lines[-1] = joined
            continue
        lines.append("")
        for letter in word:
            if lines[-1] and text_width(lines[-1] + letter, size) > room:
                lines.append("")
            lines[-1] += letter
    return lines


def _write(
    x: float, y: float, text: str, size: float, room: float, tone: str = "ink", bold: bool = False
) -> tuple[list[Words], float]:
    """Lines under each other from the top ``y``, and where they end."""
    words = []
    for line in wrap(text, size, room):
        words.append(Words(x, round(y + size, 2), line, size, tone, bold))
        y += size * LEADING
    return words, y


def _card(node: Node, x: float, y: float) -> tuple[Card, list[Words]]:
    """One card with its lettering, its top left corner at (x, y)."""
    left, room = x + PAD, CARD - 2 * PAD
    words = [Words(left, y + PAD + SMALL, _LABELS[node.kind], SMALL, "lead")]
    if node.minutes:
        words.append(Words(x + CARD - PAD, y + PAD + SMALL, node.minutes, SMALL, "lead", anchor="end"))
    down = y + PAD + SMALL * LEADING + 2
    written, down = _write(left, down, node.title, TITLE, room, bold=True)
    words += written
    band = None
    if node.caution:
        top = down + 4
        written, down = _write(left + 9, top, node.caution, SMALL, room - 9, bold=True, tone="danger")
        words += written
        band = (top, down + 1)
    if node.note:
        written, down = _write(left, down + 3, node.note, SMALL, room, tone="lead")
        words += written
    return Card(node.kind, x, y, down + PAD - 2 - y, band), words


@dataclass
class _Pen:
    """Collects what has been drawn so far."""

    cards: list[Card]
    lines: list[tuple[tuple[float, float], ...]]
    words: list[Words]


def _label_room(branch: Branch) -> tuple[list[Words], list[Words], float]:
    """The words above and below a branch's line, and the half height they ask for."""
    above, up = _write(0, 0, branch.outcome, OUTCOME, GAP - 26, bold=True)
    below, down = _write(0, 0, branch.share or "", SMALL, GAP - 26, tone="lead")
    return above, below, max(up, down) + 5


def _band(node: Node) -> float:
    """The height a step needs with all that follows it."""
    card, _ = _card(node, 0, 0)
    after = sum(max(_band(branch.to), 2 * _label_room(branch)[2]) for branch in node.branches)
    return max(card.height, after + BETWEEN * max(0, len(node.branches) - 1))


def _draw(node: Node, x: float, middle: float, pen: _Pen) -> None:
    """A step with its card centred on ``middle``, and all that follows it to the right."""
    card, words = _card(node, x, 0)
    top = middle - card.height / 2
    moved, words = _card(node, x, top)
    pen.cards.append(moved)
    pen.words += words
    if not node.branches:
        return
    bands = [max(_band(branch.to), 2 * _label_room(branch)[2]) for branch in node.branches]
    y = middle - (sum(bands) + BETWEEN * (len(bands) - 1)) / 2
    bus, right = x + CARD + 14, x + CARD + GAP
    for branch, band in zip(node.branches, bands, strict=True):
        centre = y + band / 2
        pen.lines.append(((x + CARD, middle), (bus, middle), (bus, centre), (right, centre)))
        above, below, _ = _label_room(branch)
        lift = len(above) * OUTCOME * LEADING + 1
        pen.words += [replace(w, x=bus + 6, y=round(w.y + centre - lift, 2)) for w in above]
        pen.words += [replace(w, x=bus + 6, y=round(w.y + centre + 2, 2)) for w in below]
        _draw(branch.to, right, centre, pen)
        y += band + BETWEEN


def lay_out(root: Node) -> Drawing:
    """The whole tree, read from left to right, nothing overlapping."""
    pen = _Pen([], [], [])
    height = _band(root)
    _draw(root, 1, height / 2 + 1, pen)
    width = max(card.x for card in pen.cards) + CARD + 1
    return Drawing(width, height + 2, tuple(pen.cards), tuple(pen.lines), tuple(pen.words))

"""A reading strip as lines, boxes and words at one width, so that its text is never scaled."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import log10

from firstpull.bench.strips import Strip, StripRow

WIDTHS = (288, 356, 620)
WIDE = 620
LABELS = 230
LEFT, RIGHT = 14, 22
LETTER, LANE = 8.0, 18  # what a letter of a band's word takes, and a line of them
FILLS = ("solid", "open", "hatch-2", "hatch-1", "hatch-3")


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    look: str


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle."""

    x: float
    y: float
    width: float
    height: float
    look: str


@dataclass(frozen=True, slots=True)
class Words:
    """A text and where it stands."""

    x: float
    y: float
    text: str
    look: str = ""
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class Picture:
    """Everything that is drawn at one width."""

    width: int
    height: float
    lines: tuple[Line, ...]
    boxes: tuple[Box, ...]
    words: tuple[Words, ...]
    mark: float | None = None


def picture(strip: Strip, width: int) -> Picture:
    """The strip at a width: numbers as spreads on an axis, words as shares of a bar."""
    return _numbers(strip, width) if strip.unit else _shares(strip, width)


def tick_words(value: float) -> str:
    """A tick as people read it."""
    for size, name in ((1e6, " M"), (1e3, " k")):
        if abs(value) >= size:
            return f"{value / size:g}{name}"
    return f"{value:g}"


def _label(row: StripRow) -> str:
    return f"{row.number}  {row.name}" if row.number else row.name


def _place(strip: Strip, start: float, end: float) -> Callable[[float], float]:
    """Where a value stands between two ends of the drawing; what lies beyond stands at the end."""
    low, high = strip.axis

    def along(value: float) -> float:
        if strip.log:
            share = (log10(max(value, low)) - log10(low)) / (log10(high) - log10(low))
        else:
            share = (value - low) / (high - low)
        return round(start + min(max(share, 0.0), 1.0) * (end - start), 1)

    return along


def _numbers(strip: Strip, width: int) -> Picture:
    wide = width >= WIDE
    start, end = (LABELS if wide else LEFT), width - RIGHT
    at = _place(strip, start, end)
    over = _limit_words(strip, at, width)
    pitch, top = (28 if wide else 46), 20 + max((word.y for word in over), default=20)
    bottom = top + pitch * len(strip.rows) + (0 if wide else 6)
    lines = [Line(at(t), top - 4, at(t), bottom, "tick-line") for t in strip.ticks]
    lines += [Line(start, bottom, end, bottom, "axis")]
    lines += [Line(at(x), top - 14, at(x), bottom, "limit") for x, _, _ in strip.limits]
    boxes: list[Box] = []
    words = [Words(at(t), bottom + 18, tick_words(t), "small", _side(at(t), start, end)) for t in strip.ticks]
    words.append(Words(start, bottom + 38, strip.unit + (", each step ten times more" if strip.log else ""), "small"))
    words += over
    for i, row in enumerate(strip.rows):
        y = top + pitch * i + (14 if wide else 34)
        words.append(Words(0, y + 5 if wide else y - 12, _label(row), "" if row.number else "strong"))
        _draw_row(row, at, y, lines, boxes, words)
    if strip.mark is not None:
        lines.append(Line(at(strip.mark), 12, at(strip.mark), bottom, "mark"))
    return Picture(width, bottom + 44, tuple(lines), tuple(boxes), tuple(words),
                   at(strip.mark) if strip.mark is not None else None)


def _draw_row(
    row: StripRow, at: Callable[[float], float], y: float, lines: list[Line], boxes: list[Box], words: list[Words]
) -> None:
    if not row.spread:
        words.append(Words(at(0.0), y + 5, "could not be read", "small"))
        return
    p5, p25, p50, p75, p95 = (at(v) for v in row.spread)
    lines += [Line(p5, y, p95, y, "whisker"), Line(p5, y - 6, p5, y + 6, "whisker"),
              Line(p95, y - 6, p95, y + 6, "whisker")]
    boxes.append(Box(min(p25, p75 - 4), y - 6, max(p75 - p25, 4), 12, "body" if row.number else "healthy"))
    if not row.number:
        lines.append(Line(p50, y - 6, p50, y + 6, "median"))


def _limit_words(strip: Strip, at: Callable[[float], float], width: int) -> list[Words]:
    """A word over each band that is drawn; words of narrow bands that would touch stand in lines below one another."""
    if len(strip.limits) == 1:
        x, below, above = strip.limits[0]
        if at(x) - 6 >= LETTER * len(below) and width - at(x) - 6 >= LETTER * len(above):
            return [Words(at(x) - 6, 20, below, "strong", "end"), Words(at(x) + 6, 20, above, "strong", "start")]
    edges = [strip.axis[0], *(x for x, _, _ in strip.limits), strip.axis[1]]
    names = [*(below for _, below, _ in strip.limits), *(above for _, _, above in strip.limits[-1:])]
    ends: list[float] = []  # how far each line of words is taken
    found = []
    for name, low, high in zip(names, edges, edges[1:], strict=False):
        half = LETTER * len(name) / 2
        if at(low) >= at(high):
            continue
        middle = min(max((at(low) + at(high)) / 2, half), width - half)
        lane = next((i for i, end in enumerate(ends) if end + LETTER <= middle - half), len(ends))
        ends[lane : lane + 1] = [middle + half]
        found.append(Words(middle, 20 + LANE * lane, name, "strong", "middle"))
    return found


def _side(x: float, start: float, end: float) -> str:
    return "start" if x <= start + 2 else "end" if x >= end - 2 else "middle"


def _shares(strip: Strip, width: int) -> Picture:
    wide = width >= WIDE
    start, end = (LABELS if wide else 0), width - 2
    words: list[Words] = []
    boxes: list[Box] = []
    y = 6.0
    for i, (name, share) in enumerate(zip(strip.words, strip.overall, strict=True)):
        boxes.append(Box(start, y, 28, 14, FILLS[i % len(FILLS)]))
        here = "  < what was read" if name == strip.read else ""
        words.append(Words(start + 36, y + 12, f"{name}, {share} in 100{here}", "strong"))
        y += 22
    pitch = 28 if wide else 44
    for i, row in enumerate(strip.rows):
        middle = y + pitch * i + (18 if wide else 32)
        words.append(Words(0, middle + 5 if wide else middle - 12, _label(row), "" if row.number else "strong"))
        x = float(start)
        total = max(sum(row.chances), 1)
        for j, share in enumerate(row.chances):
            long = (end - start) * share / total
            if share:
                boxes.append(Box(round(x, 1), middle - 7, round(long, 1), 14, FILLS[j % len(FILLS)]))
            x += long
    return Picture(width, y + pitch * len(strip.rows) + 10, (), tuple(boxes), tuple(words))

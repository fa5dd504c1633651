"""How a strategy fills a page: upright or on its side, on one page or cut into several."""

import json

from firstpull.paper.chart import chart_svg, in_words, with_boxes
from firstpull.paper.chart_cut import parts_that_fit, scale_of
from firstpull.paper.chart_layout import lay_out
from firstpull.paper.sheets import BenchChart

# Room left for the drawing on each paper, in points: the sheet less its frame, title strip, title and title block.
_ROOM = {"a4": (499.0, 612.0), "letter": (516.0, 560.0)}
_ROOM_ON_SIDE = {"a4": (745.0, 366.0), "letter": (696.0, 382.0)}
_LINE = 20.0
# Points a drawing unit; small lettering is 11.5 units, so this is 6 points. Judgement: read at arm's length.
_LEAST = 0.52


def wall_charts(sheet: BenchChart, paper: str, lacking: frozenset[str]) -> dict[str, str]:
    """The drawings of a bench chart, ready for its template."""
    tree = with_boxes(sheet.root, lacking)
    taken = _LINE * (len(sheet.cautions) + len(sheet.notes) + (1 if sheet.says else 0))
    choices = []
    for on_side, (width, height) in ((False, _ROOM[paper]), (True, _ROOM_ON_SIDE[paper])):
        room = (width, height - min(taken, height / 2))
        charts = parts_that_fit(tree, *room, _LEAST)
        worst = min(scale_of(lay_out(chart), *room) for chart in charts)
        choices.append((len(charts), -worst, on_side, charts))
    _, _, on_side, charts = min(choices, key=lambda choice: choice[:3])
    drawn = [{"title": chart.title, "svg": chart_svg(chart), "words": in_words(chart)} for chart in charts]
    return {"charts": json.dumps(drawn, ensure_ascii=False), "side": "yes" if on_side else "", "code": ""}

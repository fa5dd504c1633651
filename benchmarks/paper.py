"""How long a sheet takes to print, warm: the hand-over sheet, a bill of 200 lines and a strategy for the wall."""

import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

import typst

from firstpull import paper

GOAL_MS = 300.0
HEAD = paper.Head(paper.Shop("Harrow Vale repair bench"), "417", "Walk mower, overhead valve", date="25 November 2026")


def hand_over() -> paper.HandOver:
    """A hand-over sheet as a mended mower gets it."""
    return paper.HandOver(
        HEAD,
        headline="The spark coil had died. A new one is in.",
        cautions=(paper.Caution("Pull the lead off the plug before a hand goes near the blade."),) * 2,
        wrong=("The coil gave no spark.", "The stop lead was chafed."),
        proofs=(paper.Proof("Stop lever stops it", "three times of three", "proved"),) * 5,
        measured=(paper.Measured("Coil air gap", "0.30 mm", "0.25 to 0.36 mm", "proved"),) * 5,
        renewed=(paper.Renewed("Spark coil", "HV-1180", "new", "dead"),) * 3,
        storing=("Drain the tank before winter.",) * 3,
        signers=(paper.Signer("Handed over by"), paper.Signer("Received by")),
    )


def long_bill() -> paper.Bill:
    """A bill of 200 lines with its sums so far."""
    lines = tuple(paper.PriceLine(f"Part {n}", f"${n}.00", running=f"${n * (n + 1) // 2}.00") for n in range(1, 201))
    return paper.Bill(HEAD, lines=lines, totals=(paper.Total("All together", "$20100.00", strong=True),))


def wall_chart() -> paper.BenchChart:
    """A strategy of 15 steps."""

    def step(depth: int) -> paper.Node:
        after = tuple(paper.Branch(word, step(depth - 1)) for word in ("lights", "dark")) if depth else ()
        return paper.Node("Spark at the tester, lever held", minutes="2 min", branches=after)

    return paper.BenchChart(HEAD, "Will not start", step(3))


def milliseconds(act: Callable[[int], object], times: int) -> float:
    """The median of several warm runs, each of another job so that nothing set before can be used again."""
    act(0)
    took = []
    for job in range(1, times + 1):
        start = time.perf_counter()
        act(job)
        took.append((time.perf_counter() - start) * 1000)
    return statistics.median(took)


def print_job(sheet: paper.Sheet, job: int) -> bytes:
    """The same sheet for another job, whose number stands in its strip, title and title block."""
    return paper.render(replace(sheet, head=replace(HEAD, job=str(job), machine=f"Walk mower {job}")))


def bare_page(job: int) -> bytes:
    """The anchor: one line of text through the same typesetter, tagged alike."""
    source = f'#set document(title: "Line")\n= Line {job}'
    made = typst.compile(source.encode(), format="pdf", ignore_system_fonts=True, pdf_standards=["ua-1"])
    assert isinstance(made, bytes)
    return made


def rows(quick: bool) -> list[dict[str, Any]]:
    """The benchmark table of this room."""
    times = 5 if quick else 30
    anchor = milliseconds(bare_page, times)
    sheets: dict[str, paper.Sheet] = {
        "hand-over sheet": hand_over(),
        "bill of 200 lines": long_bill(),
        "wall chart of 15 steps": wall_chart(),
    }
    table = []
    for name, sheet in sheets.items():
        value = milliseconds(partial(print_job, sheet), times)
        table.append(
            {
                "name": f"print a {name}, warm",
                "value": round(value, 1),
                "unit": "ms",
                "better": "lower",
                "goal": GOAL_MS,
                "met": value <= GOAL_MS,
                "anchor": "one line of text through the same typesetter",
                "anchor_value": round(anchor, 2),
                "ratio": round(value / anchor, 1),
            }
        )
    return table


if __name__ == "__main__":
    for row in rows(quick=True):
        print(row["name"], row["value"], row["unit"], "goal", row["goal"])

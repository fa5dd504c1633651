"""Hidden machines of the whole handbook, mended by us, by information gain a minute and by a fixed chart.

`python -m benchmarks.planner.hidden [--jobs N] [--part I/N]` draws machines from the virtual engine, on its own world
and on one in which every judged constant is another and blunders are doubled, and lets each way of choosing bring each
to its end. All have the same belief, the same luck and the shop's rule that a dear part wants proof. What it paid is
minutes and money as minutes; who gives up pays a like machine, who releases one that is not sound pays the comeback and
the mending. The chance from which the others repair is tuned on machines of other seeds.
Rows are kept one a line in hidden.jsonl beside this file, the summary in hidden.json.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.prove import SHOWS, cheapest_cure, jobs, shift, stamp
from firstpull.bench.worldroom import WorldRoom, open_room, shelf_folder
from firstpull.engine.vocabulary.types import Conditions
from firstpull.practice.arrivals import arrive
from firstpull.practice.chart import ChartGame, GainGame
from firstpull.practice.playing import Game, Score, all_unlocked
from firstpull.reasoning.laying import PROOF_MINUTES
from firstpull.reasoning.prices import Prices

ROWS, SUMMARY = Path(__file__).with_name("hidden.jsonl"), Path(__file__).with_name("hidden.json")
SURE = (0.6, 0.8, 0.95)
TUNING_SEED, FIRST_SEED = 500, 10_000
TUNING_JOBS = 10


Played = dict[str, Any]


def paid(score: Score, room: WorldRoom, machine: str, fault: str, prices: Prices) -> float:
    """What a job cost, in minutes."""
    book = room.worlds(machine, Conditions()).book
    worth = prices.minutes(prices.worth_share * book.machine.worth[1])
    cost = score.minutes + prices.minutes(score.money)
    if not score.released:
        return cost + worth
    if not score.cured:
        cost += prices.comeback_minutes + PROOF_MINUTES + min(cheapest_cure(book, fault, prices), worth)
    return cost


def played(room: WorldRoom, job: tuple[str, str, bool], seed: int, way: Callable[..., Game], **how: Any) -> Played:
    """One machine brought to its end in one way, all of them with the same settled belief."""
    machine, fault, shifted = job
    worlds = room.worlds(machine, Conditions())
    prices = all_unlocked(worlds.book)
    came = arrive(worlds.book, fault, seed, 2.0 if shifted else 1.0, shift(seed) if shifted else {})
    if came.shows < SHOWS:
        return {"cost": float("nan")}
    score = way(worlds, came.machine, came.complaint, prices, settle=True, **how).play()
    cost = round(paid(score, room, machine, fault, prices), 1)
    return {"cost": cost, "ended": score.ended, "cured": score.cured, "steps": score.steps}


def draw(room: WorldRoom, count: int, first: int) -> list[tuple[str, str, bool]]:
    """So many machines, faults and classes in turn, each on both worlds."""
    every = [(m, f) for m, f, _, shifted in jobs(room.book, 1, [False]) if not shifted]
    step = max(1, len(every) // count)
    return [(m, f, shifted) for m, f in sorted(every)[first % step :: step][:count] for shifted in (False, True)]


def tuned(room: WorldRoom, way: Callable[..., Game]) -> float:
    """The chance of repairing that costs least on machines of other seeds."""
    own = [job for job in draw(room, TUNING_JOBS, 7) if not job[2]]
    costs = {sure: np.nanmean([played(room, job, TUNING_SEED, way, sure=sure)["cost"] for job in own]) for sure in SURE}
    return min(costs, key=lambda sure: float(costs[sure]))


def summary(rows: list[dict[str, Any]], command: str, mark: str) -> dict[str, Any]:
    """Means with their standard errors, and ratios from the same machines."""
    told: dict[str, Any] = {"command": command, "stamp": mark}
    for shifted in (False, True):
        mine = [r for r in rows if r["shifted"] is shifted and np.isfinite(r["ours"]["cost"])]
        if not mine:
            continue
        cost = {way: np.array([r[way]["cost"] for r in mine]) for way in ("ours", "gain", "chart")}
        known = np.array([r["known"] for r in mine])
        found: dict[str, Any] = {"jobs": len(mine), "clairvoyant": round(float(known.mean()), 1)}
        for way, values in cost.items():
            found[way] = [round(float(values.mean()), 1), round(float(values.std() / np.sqrt(len(mine))), 1)]
        for other in ("gain", "chart"):
            ratio = float(cost["ours"].mean() / cost[other].mean())
            spread = np.std(cost["ours"] - ratio * cost[other]) / np.sqrt(len(mine)) / cost[other].mean()
            found[f"over {other}"] = [round(ratio, 3), round(float(spread), 3)]
        told["shifted" if shifted else "own world"] = found
    return told


def main() -> None:
    """Play what is missing and write the summary."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--jobs", type=int, default=40)
    parser.add_argument("--part", default="1/1")
    asked = parser.parse_args()
    part, parts = (int(n) for n in asked.part.split("/"))
    room = open_room(shelf=shelf_folder())
    mark = stamp(room)
    sure = {"gain": tuned(room, GainGame), "chart": tuned(room, ChartGame)}
    rows = [json.loads(line) for line in ROWS.read_text(encoding="utf-8").splitlines()] if ROWS.exists() else []
    done = {(r["machine"], r["fault"], r["shifted"]) for r in rows if r["stamp"] == mark}
    for number, job in enumerate(draw(room, asked.jobs, 0)):
        if number // 2 % parts != part - 1 or job in done:
            continue
        worlds = room.worlds(job[0], Conditions())
        row = {
            "machine": job[0], "fault": job[1], "shifted": job[2], "stamp": mark, "sure": sure,
            "ours": played(room, job, FIRST_SEED, Game),
            "gain": played(room, job, FIRST_SEED, GainGame, sure=sure["gain"]),
            "chart": played(room, job, FIRST_SEED, ChartGame, sure=sure["chart"]),
            "known": min(cheapest_cure(worlds.book, job[1], Prices()), Prices().minutes(worlds.book.machine.worth[1])),
        }
        with ROWS.open("a", encoding="utf-8") as kept:
            kept.write(json.dumps(row) + "\n")
    rows = [json.loads(line) for line in ROWS.read_text(encoding="utf-8").splitlines()]
    told = summary([r for r in rows if r["stamp"] == mark], f"python -m benchmarks.planner.hidden --jobs {asked.jobs}",
                   mark)
    SUMMARY.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")
    print(json.dumps(told, indent=1))


if __name__ == "__main__":
    main()

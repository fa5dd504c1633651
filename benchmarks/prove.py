"""The long grid: hidden machines with every fault, played to the end as advised, on two worlds.

`python -m benchmarks.prove [--rounds N] [--seconds S] [--part I/N]` goes on where it stopped. In each round every fault
is played once on each world, in one class that has it; rounds go through the classes in turn. Rows are kept one a line
in prove.jsonl beside this file, the summary in prove.json. The shifted world multiplies every judged constant by a
log-normal of 0.15 that the belief does not know and doubles the blunders. The shop has switched on what is locked.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

import firstpull
from firstpull import __version__
from firstpull.base import draws
from firstpull.bench.worldroom import WorldRoom, open_room, shelf_folder
from firstpull.engine import constants
from firstpull.engine.vocabulary.types import Conditions
from firstpull.handbook.book import Book
from firstpull.handbook.entries import Repair
from firstpull.handbook.select import ClassBook, for_class
from firstpull.practice.arrivals import arrive
from firstpull.practice.chart import ChartGame
from firstpull.practice.playing import Game, all_unlocked
from firstpull.reasoning.adviser import Considered, advise, put_back
from firstpull.reasoning.believe import Belief, believe
from firstpull.reasoning.kept import engine_mark
from firstpull.reasoning.laying import PROOF_MINUTES
from firstpull.reasoning.options import repair_option
from firstpull.reasoning.prices import Prices
from firstpull.reasoning.sifting import STEP_MINUTES
from firstpull.safety.moves import plan_moves
from firstpull.safety.state import at_rest

ROWS = Path(__file__).with_name("prove.jsonl")
SUMMARY = Path(__file__).with_name("prove.json")
SHIFT = 0.15
SHOWS = 0.3  # share of uses in which an owner must see something to come at all; less is left out and named
FIRST_SEED = 10_000
LAPS = 8
TWICE = 2.0  # a job may take so many times the minutes of a fixed chart


def shift(seed: int) -> dict[str, float]:
    """A factor for every guessed constant."""
    from scipy.special import ndtri

    names = sorted(constants.guessed())
    scores = ndtri(draws.uniform((seed, "shifted world"), len(names)))
    return {name: float(np.exp(SHIFT * score)) for name, score in zip(names, scores, strict=True)}


class Watched(Game):
    """A job that notes at each step what was answered at once, before the settled answer."""

    def __post_init__(self) -> None:
        super().__post_init__()
        self.at_once: list[str] = []

    def choose(self, belief: Belief) -> Considered:
        """The next step: what the settled answer says."""
        quick = believe(self.scales, self.acts, settle=False)
        first = advise(quick, self.state, self.prices, 1, self.is_done, self.tried, self.proved).next
        self.at_once.append(f"{first.kind}:{first.id}")
        return super().choose(belief)


def play(room: WorldRoom, machine: str, fault: str, seed: int, shifted: bool) -> dict[str, Any]:
    """One job: what was wrong, what was done, how it ended, and whether a fixed chart would have been much quicker."""
    worlds = room.worlds(machine, Conditions())
    room.keep()
    began = time.perf_counter()
    # A shifted machine answers under shifted constants; the belief reasons under the usual ones.
    blunders, factors = (2.0, shift(seed)) if shifted else (1.0, {})
    came = arrive(worlds.book, fault, seed, blunders, factors)
    job = Watched(worlds, came.machine, came.complaint, all_unlocked(worlds.book))
    score = job.play()
    took = time.perf_counter() - began
    again = arrive(worlds.book, fault, seed, blunders, factors)
    chart = ChartGame(worlds, again.machine, came.complaint).play(score.minutes / TWICE)
    quick = chart.minutes >= score.minutes / TWICE
    lost = Prices().minutes(Prices().worth_share * worlds.book.machine.worth[1])
    honest = score.ended == "given up" and cheapest_cure(worlds.book, fault, Prices()) > lost
    return {
        "machine": machine, "fault": fault, "seed": seed, "shifted": shifted, "complaint": came.complaint,
        "shows": round(came.shows, 3), "found": score.found_and_proven and quick, "quick": quick,
        "minutes": round(score.minutes, 1), "money": score.money, "sure": round(score.sure, 3), "ended": score.ended,
        "cured": score.cured, "dear": score.wrong_dear_parts, "unproven": score.unproven_dear_parts,
        "not worth it": honest, "unsafe": score.unsafe, "steps": score.steps,
        "at once": job.at_once, "seconds": round(took, 2),
        "chart_seconds": round(time.perf_counter() - began - took, 2),
    }


def cheapest_cure(book: ClassBook, fault: str, prices: Prices) -> float:
    """Minutes and money, as minutes, of mending a known fault: parts, work, moves there and back, proof."""
    rest = at_rest(book.access)

    def price(repair: Repair) -> float:
        option = repair_option(book, repair)
        there = plan_moves(rest, option.off, option.on, book.minutes)
        back = put_back(book, rest.with_moves([(m.item, m.position) for m in there]))
        parts = prices.minutes(sum(p.usual for p in repair.parts))
        return parts + STEP_MINUTES + option.minutes + PROOF_MINUTES + sum(m.minutes for m in (*there, *back))

    return min((price(r) for r in book.repairs.values() if fault in r.ends), default=float("inf"))


def stamp(room: WorldRoom) -> str:
    """What the rows were made with."""
    home = Path(firstpull.__file__).parent
    files = [f for name in ("reasoning", "practice", "safety") for f in sorted((home / name).rglob("*.py"))]
    mind = hashlib.sha256(b"".join(f.read_bytes() for f in files)).hexdigest()
    return f"{__version__}, handbook {room.book.hash}, engine {engine_mark()[:16]}, reasoning {mind[:16]}"


def summary(rows: list[dict[str, Any]], command: str, mark: str) -> dict[str, Any]:
    """Shares by world and class, the faults that are found least, and unsafe steps (there must be none)."""
    found: dict[str, Any] = {"command": command, "stamp": mark, "jobs": len(rows)}
    for shifted in (False, True):
        played = [r for r in rows if r["shifted"] is shifted]
        mine = [r for r in played if r["shows"] >= SHOWS]
        if not mine:
            continue
        good = {id(r): r["found"] or r["not worth it"] for r in mine}
        by_class = {m: [good[id(r)] for r in mine if r["machine"] == m] for m in sorted({r["machine"] for r in mine})}
        by_fault: dict[str, list[bool]] = {}
        for r in mine:
            by_fault.setdefault(r["fault"], []).append(good[id(r)])
        share = sum(good.values()) / len(mine)
        worst = sorted(by_fault, key=lambda f: sum(by_fault[f]) / len(by_fault[f]))[:10]
        missed = [r for r in mine if not good[id(r)]]
        found["shifted" if shifted else "own world"] = {
            "jobs": len(mine),
            "no owner would bring it in": sorted({r["fault"] for r in played if r["shows"] < SHOWS}),
            "found and proven, or honestly not worth it": round(share, 4),
            "standard error": round(float(np.sqrt(share * (1 - share) / len(mine))), 4),
            "found and proven": round(sum(r["found"] for r in mine) / len(mine), 4),
            "not worth mending, and said so": sum(r["not worth it"] for r in mine),
            "missed because": {
                "released with the fault": sum(r["ended"] == "released" and not r["cured"] for r in missed),
                "given up though worth it": sum(r["ended"] == "given up" for r in missed),
                "a dear part in vain": sum(r["dear"] > 0 for r in missed),
                "a dear part before it was proved": sum(r["unproven"] > 0 for r in missed),
                "twice as long as the chart": sum(not r["quick"] for r in missed),
                "no end in forty steps": sum(r["ended"] == "too many steps" for r in missed),
            },
            "by class": {m: f"{sum(v)} of {len(v)}" for m, v in by_class.items()},
            "worst faults": {f: f"{sum(by_fault[f])} of {len(by_fault[f])}" for f in worst},
            "unsafe steps": sum(len(r["unsafe"]) for r in mine),
            "median minutes": float(np.median([r["minutes"] for r in mine])),
            "answers at once": taken_back(mine),
        }
    return found


def taken_back(rows: Sequence[dict[str, Any]]) -> dict[str, Any]:
    """How often the settled answer says another step than the one at once, above all where that was a repair."""
    pairs = [pair for r in rows for pair in zip(r["at once"], r["steps"], strict=True)]
    repairs = [pair for pair in pairs if pair[0].startswith("repair:")]
    back = sum(first != then for first, then in repairs)
    share = back / len(pairs)
    return {
        "steps": len(pairs), "the same step": sum(first == then for first, then in pairs),
        "repairs proposed at once": len(repairs), "repairs taken back": back,
        "taken back, of all steps": round(share, 4),
        "standard error": round(float(np.sqrt(share * (1 - share) / len(pairs))), 4),
    }


def jobs(book: Book, rounds: int, worlds: Sequence[bool]) -> list[tuple[str, str, int, bool]]:
    """What to play, a round after another; each goes through the classes in laps, so that a part is a fair one.

    Every job has luck and a shifted world of its own.
    """
    having = {f: [m for m in book.machines if f in for_class(book, m).faults] for f in book.faults}
    seeds = {f: FIRST_SEED + i for i, f in enumerate(having)}
    found = []
    for number in range(rounds):
        here = [(f, kinds[(i + number) % len(kinds)]) for i, (f, kinds) in enumerate(having.items()) if kinds]
        for lap in range(LAPS):
            part = sorted(here[lap::LAPS], key=lambda pair: pair[1])
            found += [(m, f, seeds[f] + number * len(seeds), shifted) for f, m in part for shifted in worlds]
    return found


def main() -> None:
    """Play what is missing, within the time, and write the summary."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--rounds", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=3600.0)
    parser.add_argument("--worlds", default="own,shifted")
    parser.add_argument("--part", default="1/1", help="this share of the jobs, for several processes side by side")
    asked = parser.parse_args()
    room = open_room(shelf=shelf_folder())
    mark = stamp(room)
    part, parts = (int(n) for n in asked.part.split("/"))
    done = {_key(r) for r in kept_rows(mark)}
    until = time.monotonic() + asked.seconds
    worlds = [shifted for shifted, name in ((False, "own"), (True, "shifted")) if name in asked.worlds]
    for number, job in enumerate(jobs(room.book, asked.rounds, worlds)):
        if number // len(worlds) % parts != part - 1 or job in done or time.monotonic() > until:
            continue
        row = play(room, *job) | {"stamp": mark}
        with ROWS.open("a", encoding="utf-8") as kept:
            kept.write(json.dumps(row) + "\n")
    command = f"python -m benchmarks.prove --rounds {asked.rounds} --worlds {asked.worlds}"
    told = summary(kept_rows(mark), command, mark)
    SUMMARY.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")
    print(json.dumps(told, indent=1))


def kept_rows(mark: str) -> list[dict[str, Any]]:
    """Rows made with the program and handbook of this stamp."""
    rows = [json.loads(line) for line in ROWS.read_text(encoding="utf-8").splitlines()] if ROWS.exists() else []
    return [r for r in rows if r["stamp"] == mark]


def _key(row: dict[str, Any]) -> tuple[str, str, int, bool]:
    return (row["machine"], row["fault"], row["seed"], row["shifted"])


if __name__ == "__main__":
    main()

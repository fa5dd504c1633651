"""What the adviser does first: the commonest complaints, class by class, alone and with what owners usually tell.

`python -m benchmarks.first_steps [--classes a,b] [--complaints a,b] [--no-write]` plays the first three steps of each
job with the likeliest outcome of each, and writes docs/first-steps.md. Rows that were made with the same handbook are
kept in build/first-steps.jsonl, so that a run that was broken off goes on where it stopped.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from firstpull import __version__
from firstpull.bench.case import Case, Step
from firstpull.bench.session import Session
from firstpull.bench.worldroom import WorldRoom, open_room
from firstpull.engine.vocabulary.types import Conditions
from firstpull.reasoning.adviser import Advice, Considered
from firstpull.reasoning.explain import outcome_name
from firstpull.reasoning.laying import telling_checks

ROOT = Path(__file__).parents[1]
ROWS = ROOT / "build" / "first-steps.jsonl"
PAGE = ROOT / "docs" / "first-steps.md"
# The twenty commonest, in the order of a season at the counter: common practice, no source.
COMPLAINTS = (
    "will-not-start", "hard-to-start", "dies-after-seconds", "hunts-at-idle", "only-runs-on-choke", "bogs", "no-power",
    "dies-after-minutes", "dies-when-warm", "starts-once-a-day", "rope-jams-solid", "rope-stays-out", "fuel-on-floor",
    "white-smoke", "blue-smoke", "shakes", "will-not-stop", "no-electricity", "does-not-crank", "kicks-back",
)
STORED = ("stored-with-fuel",)
HIT = ("struck-something",)
TOLD: dict[str, tuple[tuple[str, ...], ...]] = {
    **dict.fromkeys(COMPLAINTS[1:8], (STORED,)), "will-not-start": (STORED, HIT), "rope-jams-solid": (STORED, HIT),
    "shakes": (HIT,), "kicks-back": (HIT,), "no-electricity": (STORED,), "fuel-on-floor": (STORED,),
}
STEPS = 3
EFFORT = 2
REACHED_FOR = 0.02  # a repair less likely to cure than this tempts nobody: judgement
TEMPTS = 0.1  # nor does a check that tells less than this share of the first in the same minutes: judgement


@dataclass(frozen=True, slots=True)
class Taken:
    """A step as advised, and its likeliest outcome, which is what the next one follows from."""

    step: Considered
    name: str
    word: str
    outcome: str


def first_steps(
    room: WorldRoom, machine: str, complaint: str, told: tuple[str, ...] = ()
) -> tuple[list[Taken], str]:
    """The first steps as advised, and what a bench would do first out of habit."""
    worlds = room.worlds(machine, Conditions(), EFFORT)
    session = Session.of_case(Case(machine, (complaint,), told, Conditions(), ()), worlds)
    found: list[Taken] = []
    usual = ""
    for _ in range(STEPS):
        advice = session.advice()
        step, word = advice.next, likeliest(advice, advice.next)
        if not found and not told:
            usual = habit(session, step)
        outcome = outcome_name(session.book, step.id, word).lower() if word else ""
        found.append(Taken(step, step_name(session, step), word, outcome))
        if step.kind != "check" or not take(session, step, word):
            break
    return found, usual


def likeliest(advice: Advice, step: Considered) -> str:
    """The word that a check would most likely give; empty for what is no check."""
    if step.table is None:
        return ""
    rows = step.table[: len(step.words)] @ (advice.share / advice.share.sum())
    return step.words[int(np.argmax(rows))]


def take(session: Session, step: Considered, word: str) -> bool:
    """Do a check with its moves; whether its outcome can be said in one word."""
    assert step.option is not None
    check = session.book.checks[step.id]
    if len(check.readings) > 1 or check.readings[0].several:
        return False
    for move in step.moves:
        session.take(Step("access", move.item, state=move.position))
    option = step.option
    drive = option.drive if check.spins else None
    session.take(Step("check", step.id, reading=word, drive=drive, thermal=option.thermal, choke=option.choke))
    return True


def habit(session: Session, first: Considered) -> str:
    """What a bench does first out of habit and the adviser does not, and why: a check and a repair, a sentence each."""
    return " ".join(said for said in (habitual_check(session, first), habitual_repair(session, first)) if said)


def habitual_repair(session: Session, first: Considered) -> str:
    """The repair that hands reach for most, with how seldom it would cure; empty where none comes near."""
    chance = session.belief().repair_probability
    usual = [r for r in session.book.repairs.values() if r.habit and r.id != first.id and chance[r.id] >= REACHED_FOR]
    if not usual:
        return ""
    chosen = max(usual, key=lambda r: (chance[r.id], r.id))
    return f"{chosen.name}: {_sentence(chosen.habit)}; it would cure {chance[chosen.id]:.0%}."


def habitual_check(session: Session, first: Considered) -> str:
    """The check that a bench does out of habit and that tells most; empty where there is none."""
    book = session.book
    worth = {t.option.id: t.worth for t in reversed(telling_checks(session.belief(), session.state, session.prices))}
    usual = [c for c in book.checks.values() if c.habit and c.id != first.id]
    if not usual:
        return ""
    chosen = max(usual, key=lambda c: (worth.get(c.id, 0.0), c.id))
    name = step_name(session, first)
    if chosen.id in worth and first.id in worth:
        share = worth[chosen.id] / worth[first.id]
        if share < TEMPTS:
            return ""
        told = f"here it tells {share:.0%} of what '{name}' tells in the same minutes"
    else:
        safer = [book.checks[s].name for s in chosen.safer if s in book.checks]
        told = f"'{safer[0]}' goes before it" if safer else "here it tells nothing"
    return f"{chosen.name}: {_sentence(chosen.habit)}; {told}."


def _sentence(habit: str) -> str:
    return f"{habit[0].lower()}{habit[1:].rstrip('.')}"


def step_name(session: Session, step: Considered) -> str:
    """What a step is called."""
    if step.kind == "check":
        return session.book.checks[step.id].name
    if step.kind == "repair":
        return session.book.repairs[step.id].name
    return {"proof": "Put back and try it", "end": "Tell the owner: no further"}[step.kind]


def row(room: WorldRoom, machine: str, complaint: str, told: tuple[str, ...]) -> dict[str, Any]:
    """One line of the table."""
    taken, usual = first_steps(room, machine, complaint, told)
    return {
        "machine": machine, "complaint": complaint, "told": list(told), "stamp": stamp(room),
        "steps": [f"{t.step.kind}:{t.step.id}" for t in taken], "words": [t.word for t in taken],
        "names": [t.name for t in taken], "outcomes": [t.outcome for t in taken], "habit": usual,
    }


def stamp(room: WorldRoom) -> str:
    """What a row was made with."""
    return f"{__version__} {room.book.hash}"


def wanted(
    room: WorldRoom, machines: Iterable[str], complaints: Iterable[str]
) -> Iterable[tuple[str, str, tuple[str, ...]]]:
    """The rows that exist: complaints and told facts of each class."""
    complaints = tuple(complaints)
    for machine in machines:
        book = room.worlds(machine, Conditions(), EFFORT).book
        for complaint in (c for c in complaints if c in book.complaints):
            for told in ((), *TOLD.get(complaint, ())):
                if set(told) <= set(book.told):
                    yield machine, complaint, told


def page(room: WorldRoom, rows: list[dict[str, Any]], command: str) -> str:
    """The page: a table a class, then the habits."""
    book = room.book
    lines = ["# First steps", "",
             "What the adviser does first, with the likeliest outcome of each step as its next reading.",
             f"Generated by `{command}`; stamp `{stamp(room)}`.", ""]
    for machine in dict.fromkeys(r["machine"] for r in rows):
        lines += [f"## {book.machines[machine].name}", "", "| complaint | told | first | then | then |",
                  "|---|---|---|---|---|"]
        for r in (r for r in rows if r["machine"] == machine):
            cells = [f"{n} ({o})" if o else n for n, o in zip(r["names"], r["outcomes"], strict=True)]
            cells += [""] * (STEPS - len(cells))
            told = ", ".join(book.told[t].name for t in r["told"])
            lines.append(f"| {book.complaints[r['complaint']].name} | {told} | {' | '.join(cells)} |")
        lines.append("")
    lines += ["## Out of habit", "", "What a bench does first out of habit and the adviser does not, and why.", ""]
    for complaint in dict.fromkeys(r["complaint"] for r in rows):
        said = [r for r in rows if r["complaint"] == complaint and r["habit"]]
        if said:
            lines.append(f"- **{book.complaints[complaint].name}** ({book.machines[said[0]['machine']].name.lower()}). "
                         f"{said[0]['habit']}")
    return "\n".join(lines) + "\n"


def main() -> None:
    """Make the rows that are missing, then the page."""
    room = open_room()
    words = argparse.ArgumentParser(description="The first steps of the commonest complaints.")
    words.add_argument("--classes", default=",".join(room.book.machines))
    words.add_argument("--complaints", default=",".join(COMPLAINTS))
    words.add_argument("--no-write", action="store_true", help="print the rows and leave the page as it is")
    said = words.parse_args()
    ROWS.parent.mkdir(exist_ok=True)
    kept = [json.loads(line) for line in ROWS.read_text(encoding="utf-8").splitlines()] if ROWS.exists() else []
    known = {(r["machine"], r["complaint"], tuple(r["told"])): r for r in kept if r["stamp"] == stamp(room)}
    rows = []
    for key in wanted(room, said.classes.split(","), said.complaints.split(",")):
        if key not in known:
            known[key] = row(room, *key)
            with ROWS.open("a", encoding="utf-8") as file:
                file.write(json.dumps(known[key]) + "\n")
        rows.append(known[key])
        r = known[key]
        steps = " -> ".join(f"{s} ({w})" if w else s for s, w in zip(r["steps"], r["words"], strict=True))
        print(f"{key[0]:20s} {key[1]:18s} {','.join(key[2]) or '-':16s} {steps}", flush=True)
    if not said.no_write:
        PAGE.write_text(page(room, rows, "python -m benchmarks.first_steps"), encoding="utf-8")


if __name__ == "__main__":
    main()

"""Reasons in plain words: what a step tells apart, what each outcome would point to, how sure that is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from firstpull.handbook.book import Book
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.adviser import RELEASE, Advice, Considered
from firstpull.reasoning.belief import Faults
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.sifting import OUTSIDE

SOUND = 0.5  # chance of a sound machine below which nobody says that it is mended: judgement
RARE = 0.03  # an outcome less likely than this is not spelled out
MOST_NAMED = 3


def odds_words(probability: float) -> str:
    """A probability in words that a hand would use, never with decimals."""
    if probability >= 0.985:
        return "nearly certain"
    if probability <= 0.015:
        return "hardly likely"
    tenths = round(probability * 10)
    if tenths >= 10:
        return "more than 9 in 10"
    if tenths == 0:
        return "about 1 in 20" if probability > 0.03 else "less than 1 in 30"
    return f"about {tenths} in 10"


def state_name(book: ClassBook, faults: Faults) -> str:
    """What a state is called."""
    if faults == OUTSIDE:
        return "something the handbook does not know"
    if not faults:
        return "nothing wrong"
    names = [_lower(book.faults[f].name) for f in sorted(faults)]
    return " with ".join(names)


def _lower(name: str) -> str:
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


def outcome_name(book: ClassBook | Book, check: str, word: str) -> str:
    """What an outcome is called, also where readings are joined."""
    names = {o.id: o.name for r in book.checks[check].readings for o in r.outcomes}
    fixed = {"now-and-then": "now and then", "not-possible": "would not let you", "nowhere": "no place stands out",
             "several": "several places"}
    return ", ".join(names.get(w, fixed.get(w, w)) for w in word.split("+"))


@dataclass(frozen=True, slots=True)
class Pointing:
    """One outcome of a check: its name, its chance, and the states it would point to with their probability."""

    name: str
    chance: float
    points: tuple[tuple[str, float], ...]


def outcome_points(book: ClassBook, advice: Advice, step: Considered) -> list[Pointing]:
    """The likely outcomes of a check, the likeliest first."""
    if step.table is None:
        return []
    share = advice.share / advice.share.sum()
    found = []
    for word, row in zip(step.words, step.table, strict=True):
        chance = float(row @ share)
        if chance < RARE:
            continue
        after = row * share / chance
        order = np.argsort(-after, kind="stable")[:MOST_NAMED]
        points = tuple((state_name(book, advice.states[i].faults), float(after[i])) for i in order if after[i] > 0.1)
        found.append(Pointing(outcome_name(book, step.id, word), chance, points))
    return sorted(found, key=lambda entry: -entry.chance)


def why(belief: Belief, advice: Advice, step: Considered) -> str:
    """One or two sentences on why this step."""
    book = belief.walk.book
    later = book.checks.get(step.towards) or book.repairs.get(step.towards)
    way = f"{later.name} comes only after it. " if later is not None else ""
    if step.id != RELEASE and any(s.id == RELEASE for s in advice.steps):
        way = f"It did not show, but it is {odds_words(1 - belief.sound)} that something is wrong. " + way
    if step.kind == "check":
        return way + _why_check(book, advice, step)
    if step.id == RELEASE:
        return _why_release(belief)
    if step.kind == "repair":
        chance = belief.repair_probability[step.id]
        cured = sorted(((belief.fault_probability.get(f, 0.0), f) for f in book.repairs[step.id].cures), reverse=True)
        name = _lower(book.faults[cured[0][1]].name) if cured and cured[0][1] in book.faults else "what is left"
        return f"{way}It is {odds_words(chance)} that this cures it ({name}); trying is cheaper than asking more."
    if step.kind == "proof" and way:
        return way + "Try it again: what sleeps may wake."
    if step.kind == "proof":
        return "By all that was read nothing is wrong any more: put all back and try what the owner complained of."
    return "More work would cost more than the machine is worth, or nobody here can tell more: say so now."


def _why_release(belief: Belief) -> str:
    chance = belief.sound
    if chance >= SOUND:
        return "It does not show any more, and by all that was read nothing is wrong: prove it and hand it over."
    return (
        f"It did not show, and it is {odds_words(1 - chance)} that something sleeps in it. Looking further would cost "
        "more than its coming back: say so, and keep the job open while the owner uses it."
    )


def _why_check(book: ClassBook, advice: Advice, step: Considered) -> str:
    parts = []
    for pointing in outcome_points(book, advice, step)[:3]:
        if pointing.points:
            best = pointing.points[:2]
            named = " or ".join(name for name, _ in best)
            parts.append(f"{pointing.name}: {named} ({odds_words(sum(p for _, p in best))})")
    if not parts:
        return "It tells more for its minutes than the rest."
    return "It splits the suspects. " + "; ".join(parts) + "."


def why_not(belief: Belief, advice: Advice, step: Considered) -> str:
    """Why not this other step: what it would cost more, and the bench's habit answered."""
    book = belief.walk.book
    more = step.cost - advice.expected
    entry = (book.checks if step.kind == "check" else book.repairs).get(step.id)
    habit = entry.habit if entry is not None else ""
    cost = f"On average {more:.0f} minutes more to the end." if more >= 1 else "About as good."
    return f"{habit} {cost}".strip()

"""What is known about a live job, as plain values: the same for the command line, the pages and the API."""

from __future__ import annotations

from typing import Any

import numpy as np

from firstpull import __version__
from firstpull.bench.session import Session
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.acts import ReadingAct
from firstpull.reasoning.adviser import RELEASE, Advice, Considered
from firstpull.reasoning.believe import Belief
from firstpull.reasoning.explain import SOUND, outcome_points, why, why_not
from firstpull.reasoning.questions import worth_asking
from firstpull.reasoning.sifting import OUTSIDE
from firstpull.reasoning.surprise import surprise
from firstpull.safety.interlocks import Deed, judge, red

MOST_SUSPECTS = 40
MOST_RANKED = 12
LEAST_SHOWN = 1e-6
WOULD_NOT_FAIL = "would-not-fail"
PROVES = "It shows whether the last repair has cured it."


def answer(session: Session, depth: int = 2, settle: bool = True) -> dict[str, Any]:
    """Everything that is known and advised, as the JSON that scripts rely on.

    Unsettled is rougher and comes sooner, and does not say how odd the readings are (`p_value` is null).
    """
    belief = session.belief(settle)
    advice = session.advice(depth, settle)
    return {
        "suspects": suspects(belief),
        "fault_probability": {f: round(p, 12) for f, p in belief.fault_probability.items()},
        "cause_probability": {f: round(p, 12) for f, p in belief.cause_probability.items()},
        "repair_probability": {r: round(p, 12) for r, p in belief.repair_probability.items()},
        "not_in_handbook": belief.outside,
        "unopened": belief.unopened,
        "next": next_step(session, belief, advice),
        "ranked": [ranked(session.book, belief, advice, s) for s in advice.steps[:MOST_RANKED]],
        "cost": cost(session, advice),
        "questions": questions(belief),
        "surprise": _surprise(session, belief) if settle else {"p_value": None, "odd_one": None},
        "state": state(session),
        "stamp": stamp(session),
    }


def suspects(belief: Belief) -> list[dict[str, Any]]:
    """What may be wrong now, best first; an empty list of faults is a sound machine."""
    return [
        {"faults": sorted(faults), "probability": p}
        for faults, p in belief.suspects[:MOST_SUSPECTS] if p > LEAST_SHOWN
    ]


def next_step(session: Session, belief: Belief, advice: Advice) -> dict[str, Any]:
    """The step proposed, with what it needs moved, why, and what to mind."""
    kind, name = kind_and_id(session, belief, advice.next)
    step = shown_as(advice, kind, name)
    option = step.option
    return {
        "kind": kind,
        "id": name,
        "name": step_name(session.book, kind, name),
        "toward": toward(belief, advice, step),
        "with": {"drive": option.drive, "thermal": option.thermal, "choke": option.choke, "load": option.load}
        if option and step.kind == "check" else {},
        "access": [{"item": m.item, "state": m.position, "minutes": m.minutes} for m in step.moves],
        "minutes": round(step.minutes, 2),
        "waiting": option.waiting if option else 0.0,
        "why": why(belief, advice, step) if step is advice.next else PROVES,
        "cautions": cautions(session, step),
        "outcomes": [
            {"name": p.name, "chance": p.chance, "points": [list(q) for q in p.points]}
            for p in outcome_points(session.book, advice, step)
        ],
    }


def shown_as(advice: Advice, kind: str, name: str) -> Considered:
    """The step whose moves, minutes and cautions are shown: a proof by a check needs what that check needs."""
    if advice.next.kind != "proof" or kind != "check":
        return advice.next
    return next((s for s in advice.steps if s.kind == "check" and s.id == name), advice.next)


def kind_and_id(session: Session, belief: Belief, step: Considered) -> tuple[str, str]:
    """The kind and id of a step in the words of the handbook.

    A proof is the check that shows the last repair has cured, then the complaint tried again.
    """
    if step.id == RELEASE:
        return "stop", RELEASE if belief.sound >= SOUND else WOULD_NOT_FAIL
    if step.kind == "end":
        return "stop", "not-worth-more" if belief.outside < 0.5 else "send-on"
    if step.kind != "proof":
        return step.kind, step.id
    if session.last_repair is not None:
        proof = session.book.repairs[session.last_repair].proof
        if proof.check in session.book.checks and not any(mark[0] == proof.check for mark in session.done):
            return "check", proof.check
    untried = [c for c in session.complaints if session.tried_since_repair(c) is None] or session.complaints
    if untried:
        return "check", untried[0]
    return "stop", RELEASE


def step_name(book: ClassBook, kind: str, name: str) -> str:
    """What a step is called."""
    shelves: dict[str, Any] = {"check": book.checks, "repair": book.repairs, "access": book.access}
    if kind == "check" and name in book.complaints:
        return f"Does it still: {book.complaints[name].name}?"
    fixed = {RELEASE: "Prove and release", WOULD_NOT_FAIL: "It would not fail here",
             "not-worth-more": "Not worth more work", "send-on": "Send it on"}
    entry = shelves.get(kind, {}).get(name)
    return str(entry.name) if entry is not None else fixed.get(name, name)


def toward(belief: Belief, advice: Advice, step: Considered) -> list[str]:
    """The faults a step is about: what a repair cures, or what a check tells apart, likeliest first."""
    book = belief.walk.book
    probability = belief.fault_probability
    if step.kind == "repair":
        cured = [f for f in book.repairs[step.id].cures if f in probability]
        return sorted(cured, key=lambda f: -probability[f])[:4]
    if step.table is None:
        return []
    share = advice.share / advice.share.sum()
    after = step.table * share
    after = after / np.maximum(after.sum(axis=1, keepdims=True), 1e-12)
    moved = (np.abs(after - share) * (step.table @ share)[:, None]).sum(axis=0)
    order = [i for i in np.argsort(-moved, kind="stable") if advice.states[i].faults not in (frozenset(), OUTSIDE)]
    return list(dict.fromkeys(f for i in order[:4] for f in sorted(advice.states[i].faults)))[:4]


def cautions(session: Session, step: Considered) -> list[dict[str, Any]]:
    """What to mind before the step and its moves, dangers first."""
    book = session.book
    ids = [c for m in step.moves for c in book.access[m.item].cautions]
    if step.kind == "check":
        ids += book.checks[step.id].cautions
    if step.kind == "repair":
        ids += book.repairs[step.id].cautions
    if step.option:
        ids += step.option.cautions
    known = [book.book.cautions[c] for c in dict.fromkeys(ids) if c in book.book.cautions]
    known.sort(key=lambda c: not c.danger)
    return [{"id": c.id, "text": c.text, "more": c.more, "danger": c.danger} for c in known]


def ranked(book: ClassBook, belief: Belief, advice: Advice, step: Considered) -> dict[str, Any]:
    """A step considered, with what it would cost and why it is not the next one."""
    option = step.option
    return {
        "kind": "stop" if step.kind == "end" else step.kind,
        "id": step.id,
        "name": step_name(book, step.kind, step.id),
        "cost": step.cost,
        "minutes": round(step.minutes, 2),
        "off": sorted(option.off) if option else [],
        "on": sorted(option.on) if option else [],
        "drive": option.drive if option else "none",
        "why_not": "" if step is advice.next else why_not(belief, advice, step),
    }


def cost(session: Session, advice: Advice) -> dict[str, Any]:
    """Expected minutes and money to a proven fix or an honest end, their spread, and how good the plan is at least."""
    low, high = _spread(advice)
    money = session.prices.money
    gap = advice.expected / advice.lower_bound - 1 if advice.lower_bound > 0 else 0.0
    return {
        "minutes": {"expected": advice.expected, "low": low, "high": high},
        "money": {"expected": money(advice.expected), "low": money(low), "high": money(high)},
        "lower_bound": advice.lower_bound,
        "proven_gap": gap,
    }


def questions(belief: Belief) -> list[dict[str, Any]]:
    """What is worth asking the customer, best first."""
    return [{"told": a.fact, "question": a.question, "bits": a.bits, "yes": a.yes} for a in worth_asking(belief)]


def _spread(advice: Advice) -> tuple[float, float]:
    """Cost if the state were known at its 10th and 90th percentile, shifted by what finding out costs."""
    known = advice.known
    order = np.argsort(known, kind="stable")
    share = np.cumsum(advice.share[order]) / advice.share.sum()
    finding = advice.expected - float(known @ advice.share) / advice.share.sum()
    last = len(order) - 1
    low = float(known[order[min(int(np.searchsorted(share, 0.1)), last)]])
    high = float(known[order[min(int(np.searchsorted(share, 0.9)), last)]])
    return max(0.0, min(low + finding, advice.expected)), max(high + finding, advice.expected)


def _surprise(session: Session, belief: Belief) -> dict[str, Any]:
    found = surprise(belief)
    odd = belief.acts[found.odd_one] if found.odd_one is not None else None
    return {"p_value": found.p_value, "odd_one": odd.check if isinstance(odd, ReadingAct) else None}


def state(session: Session) -> dict[str, Any]:
    """How the machine stands: what is off and added, what forbids starting it, and whether it could be stopped."""
    now = session.state
    start = judge(now.tokens, Deed("run", "running", "running"), session.book.sizes)
    return {
        "off": sorted(i for i in now.away if not now.items[i].added),
        "added": sorted(i for i in now.away if now.items[i].added),
        "implied": sorted(now.implied),
        "cannot_be_stopped": red(now.tokens),
        "start_forbidden": None if start.allowed else {"why": start.why, "clear_by": list(start.clear_by)},
        "questions": [
            {"item": q.item, "recorded": q.recorded, "implied": q.implied, "check": q.check} for q in session.questions
        ],
    }


def stamp(session: Session) -> dict[str, Any]:
    """What the answer follows from besides the steps."""
    worlds = session.scales.worlds
    return {
        "engine": __version__,
        "handbook": session.book.book.hash,
        "machine": session.book.machine.id,
        "rates": session.book.book.hash,
        "seed": worlds.seed,
        "variants": worlds.count,
        "conditions": {"altitude_m": worlds.conditions.altitude_m, "air_c": worlds.conditions.air_c},
    }

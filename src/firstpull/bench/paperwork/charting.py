"""The bench chart: the strategy from how a job stands, as a tree for the wall."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull import paper
from firstpull.base.errors import InputError
from firstpull.bench.paperwork.file import JobFile
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.explain import outcome_name
from firstpull.reasoning.laying import Laid, lay_out
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.strategy import Branch, Step, strategy

DEPTH = 3
LEAST = 0.06  # chance of a path below which the chart ends it: judgement
ROUNDS = 12  # thinking on each step, the same on every machine: judgement
SECONDS = 5.0


@dataclass(frozen=True, eq=False)
class _Wall:
    """What the numbers of a strategy stand for."""

    laid: Laid
    book: ClassBook


def chart(file: JobFile) -> paper.BenchChart:
    """The order that costs least from how the machine stands, three steps deep.

    Raises:
        InputError: the kind of machine is not known.
    """
    session = file.session
    if session is None:
        raise InputError("the kind of machine is not known yet", f"job {file.record.job}", "say which kind it is")
    laid = lay_out(session.belief(), session.state, session.prices, session.is_done)
    decider = Decider(Model(laid.problem))
    first = strategy(decider, depth=DEPTH, least=LEAST, seconds=SECONDS, rounds=ROUNDS)
    wall = _Wall(laid, session.book)
    root = _node(wall, first)
    cautions = [c for name in _checks(wall, first) for c in session.book.checks[name].cautions]
    known = [c for i in dict.fromkeys(cautions) if (c := file.book.cautions.get(i)) is not None and c.danger]
    return paper.BenchChart(
        head=file.head(),
        title=f"{file.complaint or 'No complaint recorded'}: the order that costs least",
        root=root,
        says=f"From how job {file.record.number or file.record.job} stands now.",
        cautions=tuple(paper.Caution(c.text, c.more or None) for c in known),
        notes=(
            "Minutes are hands-on. Shares are what the program expects here, from stated guesses and what was read.",
            f"Ways less likely than {LEAST * 100:.0f} in 100 end early: ask the program again there.",
        ),
    )


def _checks(wall: _Wall, step: Step) -> list[str]:
    """The checks of the tree, in reading order."""
    mine = [step.action.id] if step.action.kind == "check" else []
    return [*mine, *(c for b in step.branches if b.then is not None for c in _checks(wall, b.then))]


def _node(wall: _Wall, step: Step) -> paper.Node:
    action, book = step.action, wall.book
    if action.kind == "end":
        return paper.Node("Stop and tell the owner", "stop")
    if action.kind == "proof":
        return paper.Node("Put all back and try the complaint again", "check", branches=_proofs(wall, step))
    if action.kind == "repair":
        entry = book.repairs[action.id]
        option = wall.laid.repairs[action.index]
        note = _moves(wall, step, option.off, option.on)
        return paper.Node(
            entry.name, "repair", f"{max(1, round(option.minutes))} min", _danger(book, option.cautions), note,
            _after_repair(wall, step),
        )
    option = wall.laid.checks[action.index]
    return paper.Node(
        book.checks[action.id].name, "check", f"{max(1, round(option.minutes))} min", _danger(book, option.cautions),
        _moves(wall, step, option.off, option.on), _outcomes(wall, step),
    )


def _outcomes(wall: _Wall, step: Step) -> tuple[paper.Branch, ...]:
    """The likely outcomes of a check, the likeliest first, and one way on for all the others."""
    likely = sorted((b for b in step.branches if b.chance >= LEAST), key=lambda b: -b.chance)
    rest = sum(b.chance for b in step.branches if b.chance < LEAST)
    found = [_branch(wall, step, b) for b in likely]
    if rest > 0:
        found.append(paper.Branch("anything else", paper.Node("Ask the program again", "ask"), _share(rest)))
    return tuple(found)


def _branch(wall: _Wall, step: Step, branch: Branch) -> paper.Branch:
    words = wall.laid.words[step.action.index]
    word = words[branch.outcome] if branch.outcome < len(words) else ""
    then = _node(wall, branch.then) if branch.then is not None else paper.Node("Ask the program again", "ask")
    return paper.Branch(outcome_name(wall.book, step.action.id, word), then, _share(branch.chance))


def _after_repair(wall: _Wall, step: Step) -> tuple[paper.Branch, ...]:
    """A repair has one way on: what comes after it."""
    return tuple(paper.Branch("then", _node(wall, b.then)) for b in step.branches[:1] if b.then is not None)


def _proofs(wall: _Wall, step: Step) -> tuple[paper.Branch, ...]:
    """Gone, or still there; the second outcome of the planner's proof is that it passed."""
    found = []
    for branch in step.branches:
        passed = branch.outcome == 1
        then = _node(wall, branch.then) if branch.then is not None else (
            paper.Node("Prove it and release it", "stop") if passed else paper.Node("Ask the program again", "ask"))
        if branch.chance >= LEAST:
            found.append(paper.Branch("gone" if passed else "still so", then, _share(branch.chance)))
    return tuple(found)


def _share(chance: float) -> str:
    return f"{round(chance * 100)} in 100" if chance >= 0.01 else "under 1 in 100"


def _moves(wall: _Wall, step: Step, off: frozenset[str], on: frozenset[str]) -> str | None:
    """What must be moved for a step from how the machine then stands."""
    items = wall.laid.items
    away = {item for i, item in enumerate(items) if step.access >> i & 1}
    access = wall.book.access
    moved = [f"{access[i].name}: off" for i in sorted(off) if (i in away) == access[i].added]
    moved += [f"{access[i].name}: on" for i in sorted(on) if (i in away) != access[i].added]
    return "; ".join(moved) or None


def _danger(book: ClassBook, cautions: tuple[str, ...]) -> str | None:
    """The first danger of a step; all of them stand above the chart."""
    return next((book.book.cautions[c].text for c in cautions
                 if c in book.book.cautions and book.book.cautions[c].danger), None)

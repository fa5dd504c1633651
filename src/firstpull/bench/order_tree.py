"""The order of steps that costs least from how a job stands, as a tree: what takes long about the bench chart."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull import paper
from firstpull.base.errors import FirstpullError
from firstpull.bench.session import Session
from firstpull.bench.shop import Shop
from firstpull.engine.vocabulary.types import Arrangement
from firstpull.handbook.entries import Check
from firstpull.handbook.select import ClassBook
from firstpull.reasoning.adviser import RELEASE, Considered
from firstpull.reasoning.explain import outcome_name
from firstpull.reasoning.laying import Laid, lay_out
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.strategy import Branch, Step, strategy
from firstpull.workshop.fold import JobRecord

DEPTH = 3
LEAST = 0.06  # chance of a path below which the tree ends it: judgement
ROUNDS = 12  # thinking on each step, the same on every machine: judgement
SECONDS = 5.0


@dataclass(frozen=True, slots=True)
class OrderTree:
    """The tree, and the cautions of all checks in it by id, in reading order."""

    root: paper.Node
    cautions: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class _Wall:
    """What the numbers of a strategy stand for."""

    laid: Laid
    book: ClassBook


def order_tree(session: Session, depth: int = DEPTH) -> OrderTree:
    """The order that costs least from how a machine stands, so many steps deep, beginning with the step advised."""
    advised = session.advice().next
    laid = _laid_with(session, advised)
    decider, first = Decider(Model(laid.problem)), _number(laid, advised)
    tree = strategy(decider, depth=depth, least=LEAST, seconds=SECONDS, rounds=ROUNDS, first=first)
    wall = _Wall(laid, session.book)
    cautions = [c for name in _checks(tree) for c in session.book.checks[name].cautions]
    return OrderTree(_node(wall, tree), tuple(dict.fromkeys(cautions)))


def _laid_with(session: Session, step: Considered) -> Laid:
    """The planner's problem with the step advised in it: a proof of a dear part may tell little, or be read again."""

    def done(check: Check, place: Arrangement) -> bool:
        return check.id != step.id and session.is_done(check, place)

    also = (step.towards or step.id) if step.kind == "check" else ""
    return lay_out(session.belief(), session.state, session.possible, done, also)


def _number(laid: Laid, step: Considered) -> int | None:
    """Where the step advised stands in the problem; None where it does not (release)."""
    p = laid.problem
    if step.id == RELEASE:
        return None
    if step.kind in ("proof", "end"):
        return p.number(step.kind, 0)
    wanted = step.towards or step.id
    if step.kind == "check":
        for index, telling in enumerate(laid.checks):
            now = telling.lead or telling
            if (telling.option.id, now.option.id, now.place) == (wanted, step.id, step.place):
                return p.number("check", index)
    return next((p.number("repair", i) for i, option in enumerate(laid.repairs) if option.id == wanted), None)


def tree_of(shop: Shop, record: JobRecord, session: Session) -> OrderTree | None:
    """The tree of a job; with workers none as long as they are at it, without them it is made here.

    Raises:
        FirstpullError: the workers could not make it.
    """
    if shop.pool is None:
        return order_tree(session)
    made = shop.pool.made("chart", shop.mark(record), record, shop.prices())
    if made is None:
        return None
    if made.failed:
        where = f"job {record.job}: {made.failed}"
        raise FirstpullError("this chart could not be worked out", where, "ask for it again")
    tree: OrderTree = made.value
    return tree


def tree_words(node: paper.Node, indent: str = "") -> list[str]:
    """A tree as lines for a person: a step with its minutes and danger, and below it what each outcome leads to."""
    head = f"{indent}{node.title}" + (f" ({node.minutes})" if node.minutes else "")
    lines = [head + (f" [{node.note}]" if node.note else "")]
    if node.caution:
        lines.append(f"{indent}  ! {node.caution}")
    for branch in node.branches:
        share = f", {branch.share}" if branch.share else ""
        lines.append(f"{indent}  {branch.outcome}{share}:")
        lines += tree_words(branch.to, indent + "    ")
    return lines


def _checks(step: Step) -> list[str]:
    """The checks of the tree, in reading order."""
    mine = [step.action.id] if step.action.kind == "check" else []
    return [*mine, *(c for b in step.branches if b.then is not None for c in _checks(b.then))]


def _node(wall: _Wall, step: Step) -> paper.Node:
    action, book = step.action, wall.book
    if action.kind == "end":
        return paper.Node("Stop and tell the owner", "stop")
    if action.kind == "proof":
        return paper.Node("Put all back and try the complaint again", "check", branches=_proofs(wall, step))
    if action.kind == "repair":
        entry = book.repairs[action.id]
        option = wall.laid.repairs[action.index]
        waits = [(book.checks.get(o.id) or book.repairs[o.id]).name for o in wall.laid.waits[action.index]]
        after = f"Only after: {', '.join(waits)}. " if waits else ""
        note = f"{after}{_moves(wall, step, option.off, option.on) or ''}".strip() or None
        return paper.Node(
            entry.name, "repair", f"{max(1, round(option.minutes))} min", _danger(book, option.cautions), note,
            _after_repair(wall, step),
        )
    telling = wall.laid.checks[action.index]
    option, note = telling.option, _moves(wall, step, telling.option.off, telling.option.on)
    if telling.lead is not None:
        note = f"Only after: {book.checks[telling.lead.option.id].name}. {note}".strip()
    return paper.Node(
        book.checks[action.id].name, "check", f"{max(1, round(option.minutes))} min", _danger(book, option.cautions),
        note, _outcomes(wall, step),
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
    words = wall.laid.checks[step.action.index].words
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

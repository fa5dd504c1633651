"""The bench chart: the strategy from how a job stands, as a tree for the wall."""

from __future__ import annotations

from firstpull import paper
from firstpull.base.errors import InputError, RefusedError
from firstpull.bench.order_tree import LEAST, tree_of
from firstpull.bench.paperwork.file import JobFile


def chart(file: JobFile) -> paper.BenchChart:
    """The order that costs least from how the machine stands, three steps deep.

    Raises:
        InputError: the kind of machine is not known.
        RefusedError: the workers have not made it yet; they have begun.
        FirstpullError: the workers could not make it.
    """
    session = file.session
    if session is None:
        raise InputError("the kind of machine is not known yet", f"job {file.record.job}", "say which kind it is")
    tree = tree_of(file.shop, file.record, session)
    if tree is None:
        raise RefusedError("this chart is being worked out", f"job {file.record.job}", "look again in a moment")
    known = [c for i in tree.cautions if (c := file.book.cautions.get(i)) is not None and c.danger]
    return paper.BenchChart(
        head=file.head(),
        title=f"{file.complaint or 'No complaint recorded'}: the order that costs least",
        root=tree.root,
        says=f"From how job {file.record.number or file.record.job} stands now.",
        cautions=tuple(paper.Caution(c.text, c.more or None) for c in known),
        notes=(
            "Minutes are hands-on. Shares are what the program expects here, from stated guesses and what was read.",
            f"Ways less likely than {LEAST * 100:.0f} in 100 end early: ask the program again there.",
        ),
    )

"""The strategy as a tree for the wall."""

from __future__ import annotations

import pytest

from firstpull.base.errors import InputError
from firstpull.bench.find import what_next
from firstpull.bench.order_tree import DEPTH
from firstpull.bench.paperwork.charting import chart
from firstpull.bench.paperwork.file import job_file
from firstpull.bench.shop import Shop
from firstpull.paper import Node
from tests.bench.coil_job import gone_home, taken_in


def depth(node: Node) -> int:
    return 1 + max((depth(b.to) for b in node.branches), default=0)


def nodes(node: Node) -> list[Node]:
    return [node, *(n for b in node.branches for n in nodes(b.to))]


def test_the_tree_is_of_this_machine_s_own_checks_and_repairs(shop: Shop) -> None:
    job = taken_in(shop)
    sheet = chart(job_file(shop, job))
    book = shop.room.book
    names = {e.name for shelf in (book.checks, book.repairs) for e in shelf.values()}
    fixed = {"Stop and tell the owner", "Ask the program again", "Put all back and try the complaint again",
             "Prove it and release it"}
    assert {n.title for n in nodes(sheet.root)} <= names | fixed
    assert depth(sheet.root) <= DEPTH + 1


def test_every_outcome_of_a_check_leads_somewhere_and_the_shares_are_those_of_all_ways(shop: Shop) -> None:
    root = chart(job_file(shop, taken_in(shop))).root
    shares = [int(b.share.split()[0]) for b in root.branches if b.share and b.share[0].isdigit()]
    assert 97 <= sum(shares) <= 103
    assert all(b.to.title for b in root.branches)


def test_a_step_that_can_hurt_carries_its_caution(shop: Shop) -> None:
    book = shop.room.book
    dangerous = {c.name for c in book.checks.values() if any(book.cautions[i].danger for i in c.cautions)}
    for node in nodes(chart(job_file(shop, taken_in(shop))).root):
        if node.kind == "check" and node.title in dangerous:
            assert node.caution


def test_a_mended_machine_has_a_chart_that_ends(shop: Shop) -> None:
    sheet = chart(job_file(shop, gone_home(shop)))
    assert sheet.root.title
    assert depth(sheet.root) >= 1


def test_the_same_job_gives_the_same_chart(shop: Shop) -> None:
    job = taken_in(shop)
    assert chart(job_file(shop, job)) == chart(job_file(shop, job))


def test_the_first_step_is_of_the_kind_that_is_advised(shop: Shop) -> None:
    job = taken_in(shop)
    assert chart(job_file(shop, job)).root.kind == what_next(shop, job)["next"]["kind"]


def test_a_machine_of_unknown_kind_has_no_chart(shop: Shop) -> None:
    with pytest.raises(InputError):
        chart(job_file(shop, taken_in(shop, machine="")))

"""Sheets from the record: everything recorded is on them, and nothing else."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest

from firstpull.base.errors import InputError, RefusedError
from firstpull.bench.approving import approve
from firstpull.bench.estimating import make_estimate
from firstpull.bench.ourselves import keep_shop_words
from firstpull.bench.printing import KINDS, PAPERS, file_name, print_sheet, sheet_of
from firstpull.bench.release import return_unmended
from firstpull.bench.shop import Shop
from firstpull.paper import BenchChart
from tests.bench.coil_job import found, gone_home, how, mended, put, taken_in, words_on

ALWAYS = ("tag", "receipt", "work-sheet")
HOSTILE = "<b>'; DROP TABLE jobs; -- #import \"x\" $x$ \\u{202e} {{7*7}} \u202e\u0000\ud83d %s ﷽"


@pytest.mark.parametrize("kind", ALWAYS)
def test_papers_of_the_counter_print_for_every_class_at_once(shop: Shop, kind: str) -> None:
    for machine in ("walk-mower-ohv", "string-trimmer", ""):
        job = taken_in(shop, machine=machine)
        assert print_sheet(shop, job, kind).startswith(b"%PDF")


@pytest.mark.parametrize("kind", ["estimate", "approval", "hand-over", "returned", "abandoned"])
def test_a_sheet_that_the_record_does_not_hold_yet_is_refused_with_what_is_missing(shop: Shop, kind: str) -> None:
    with pytest.raises(RefusedError, match="job"):
        print_sheet(shop, taken_in(shop), kind)


@pytest.mark.parametrize("paper", PAPERS)
def test_each_paper_has_its_size(shop: Shop, paper: str) -> None:
    page = pypdf.PdfReader(io.BytesIO(print_sheet(shop, taken_in(shop), "tag", paper))).pages[0]
    width = float(page.mediabox.width)
    assert width == pytest.approx({"a4": 595.3, "letter": 612.0}[paper], abs=0.5)


def test_an_unknown_sheet_paper_or_job_is_refused(shop: Shop) -> None:
    job = taken_in(shop)
    for number, kind, paper in ((job, "poster", "a4"), (job, "tag", "a0"), ("999", "tag", "a4")):
        with pytest.raises(InputError):
            print_sheet(shop, number, kind, paper)


def test_printing_keeps_nothing(shop: Shop) -> None:
    job = gone_home(shop)
    before = shop.record(job)
    for kind in KINDS:
        if kind not in ("returned", "abandoned"):
            print_sheet(shop, job, kind)
    assert shop.record(job) == before


def test_every_fact_of_the_counter_is_on_tag_and_receipt(shop: Shop) -> None:
    keep_shop_words(shop, {"name": "Mill Yard bench", "lines": ["3 Mill Yard"], "terms": ["Terms, number one."]})
    job = taken_in(shop, left_with=("Grass bag", "Key on a red string"), promised="2026-04-16", place="Rack B 4",
                   told=("stored-with-fuel",))
    told = shop.room.book.told["stored-with-fuel"].name
    receipt, tag = words_on(shop, job, "receipt"), words_on(shop, job, "tag")
    for word in ("Mill Yard bench", "3 Mill Yard", "Ada Fenwright", "won't start", "Grass bag", "Key on a red string",
                 "April 16"):
        assert word in receipt
        assert word in tag
    for word in ("0555 0101", "€80.00", "Terms, number one.", told, "Rack B 4"):
        assert word in receipt


def test_nothing_stands_on_a_receipt_that_nobody_said(shop: Shop) -> None:
    receipt = words_on(shop, taken_in(shop), "receipt")
    for word in ("Terms", "Condition", "Left with it", "photographed", "Harrow Vale"):
        assert word not in receipt


def test_the_printed_estimate_is_the_kept_one(shop: Shop) -> None:
    job = found(shop)
    _, said = make_estimate(shop, job, **how(shop, job))
    sheet = words_on(shop, job, "estimate")
    for word in (said.low, said.usual, said.high, said.find_fee, said.likely[0].odds, "renew the coil", "dark"):
        assert word is not None
        assert word in sheet


def test_the_slip_says_who_to_what_up_to_what_sum_and_how_twice(shop: Shop) -> None:
    job = found(shop)
    approve(shop, job, "mend", "Tam Fenwright", "97,40", "by telephone", **how(shop, job))
    sheet = words_on(shop, job, "approval")
    for word in ("€97.40", "Tam Fenwright", "by telephone", "to mend it"):
        assert sheet.count(word) >= 2


def test_the_hand_over_sheet_has_cause_proofs_values_parts_refusals_and_fuel(shop: Shop) -> None:
    job = gone_home(shop)
    sheet = words_on(shop, job, "hand-over")
    for word in ("Coil", "Proved", "0.27 mm", "To specification", "HV-1180", "dark, stop lead off",
                 "The grass flap was missing.", "0.4 litre, fresh today", "Plug lead off and earthed",
                 shop.room.book.releases["stops-from-its-control"].name):
        assert word in sheet
    assert "Failed" not in sheet


def test_the_bill_has_lines_totals_the_agreed_sum_and_what_was_paid(shop: Shop) -> None:
    sheet = words_on(shop, gone_home(shop), "bill")
    for word in ("finding the fault", "by the handbook", "coil", "HV-1180", "€35.00", "€140.00", "€69.50 in cash",
                 "0.27 mm", "old coil", "The grass flap was missing."):
        assert word in sheet


def test_a_machine_returned_unsafe_says_so_first_and_has_no_word_of_working(shop: Shop) -> None:
    job = found(shop)
    return_unmended(shop, job, "Declined: the coil is too dear.", unsafe=["The guard is cracked."], **how(shop, job))
    sheet = words_on(shop, job, "returned")
    assert sheet.index("Do not use this machine") < sheet.index("As it leaves")
    for word in ("Declined: the coil is too dear.", "The guard is cracked.", "Stop lead at the coil", "€25.00"):
        assert word in sheet
    assert "Released as working" not in sheet


def test_the_chart_shows_the_step_that_is_advised_and_its_outcomes(shop: Shop) -> None:
    job = taken_in(shop)
    sheet = sheet_of(shop, job, "chart")
    assert isinstance(sheet, BenchChart)
    assert sheet.root.title in words_on(shop, job, "chart")
    assert len(sheet.root.branches) >= 2
    assert print_sheet(shop, job, "chart").startswith(b"%PDF")


def test_hostile_and_very_long_words_are_printed_as_words(shop: Shop) -> None:
    said = HOSTILE + " wont start " + "very " * 2000 + "long"
    job = taken_in(shop, who="Ann " + HOSTILE.replace("\ud83d", ""), complaint=said.replace("\ud83d", ""),
                   left_with=tuple(f"Thing {n} " + "x" * 300 for n in range(30)))
    put(shop, job, {"check": "will-not-start", "reading": "still"})
    return_unmended(shop, job, HOSTILE.replace("\ud83d", "") * 40, **how(shop, job))
    for kind in (*ALWAYS, "returned", "bill"):
        sheet = words_on(shop, job, kind)
        assert "DROP TABLE" in sheet
        assert "7*7" in sheet


def test_an_erased_owner_leaves_facts_and_no_name(shop: Shop) -> None:
    job = gone_home(shop)
    shop.store.erase_person(shop.record(job).person, by="Wren", at="2026-05-01T00:00:00Z")
    for kind in ("tag", "bill", "hand-over"):
        sheet = words_on(shop, job, kind)
        assert "Fenwright" not in sheet
        assert "0555" not in sheet
    assert "HV-1180" in words_on(shop, job, "hand-over")


def test_the_same_record_gives_the_same_sheet(shop: Shop) -> None:
    job = mended(shop)
    assert print_sheet(shop, job, "bill") == print_sheet(shop, job, "bill")


def test_a_file_name_holds_nothing_that_leads_elsewhere(tmp_path: Path) -> None:
    assert file_name("../../etc/passwd", "tag") == "job-------etc-passwd-tag.pdf"

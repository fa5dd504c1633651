"""The table of who may name whom, and what it forbids."""

from __future__ import annotations

from typing import Any

from firstpull.handbook.read import load
from firstpull.handbook.references import REFERENCES, named


def test_no_kind_of_entry_names_faults_and_checks_but_a_repair_by_its_proof_and_what_is_read_before_it() -> None:
    both = {
        kind: [path for path, target in table if target in ("fault", "check")]
        for kind, table in REFERENCES.items()
        if {"fault", "check"} <= {target for _, target in table}
    }
    assert both == {"repair": ["cures[]", "besides[]", "proof.check", "after[]", "instead{}"]}


def test_words_are_told_with_the_key_that_stands_in_the_file(shelf: Any) -> None:
    book = load(shelf.write())
    fault, check = book.faults["lead-chafed"], book.checks["spark"]
    assert list(named(fault, "rate{}")) == [(("rate", "default"), "default"), (("rate", "mower"), "mower")]
    assert list(named(fault, "draws[].parameter")) == [(("draws", 0, "parameter"), "stop_lead_ohm")]
    assert list(named(check, "readings[].reads")) == [(("reading", 0, "reads"), "tester_margin")]
    assert list(named(check, "readings[].spec")) == []
    assert list(named(book.repairs["reroute"], "proof.check")) == [(("proof", "check"), "spark")]

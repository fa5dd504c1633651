"""`firstpull job`: estimate, yes, parts, bill and rounds at the shell."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import Command


class Bench:
    """The command, asked for what it says or how it refuses."""

    def __init__(self, command: Command) -> None:
        self.command = command

    def said(self, *words: str) -> str:
        done = self.command(*words)
        assert done.code == 0, done.err
        return done.out

    def refused(self, *words: str) -> str:
        return self.command(*words).refused()

    def take_in(self) -> str:
        return self.said("job", "take-in", "--who", "Ada Fenwright", "--number", "0555 0101", "--complaint",
                         "won't start", "--limit", "80", "--machine", "walk-mower-ohv").strip()


@pytest.fixture
def shell(firstpull: Command) -> Bench:
    return Bench(firstpull)


def test_an_estimate_is_kept_and_one_that_is_only_looked_at_is_not(shell: Bench, tmp_path: Path) -> None:
    job = shell.take_in()
    assert "usually" in shell.said("job", "estimate", job, "--look")
    assert "no estimate" in shell.refused("print", job, "estimate")
    said = shell.said("job", "estimate", job, "--how", "telephone")
    assert "€" in said
    shell.said("print", job, "estimate", "--out", str(tmp_path / "e.pdf"))
    assert (tmp_path / "e.pdf").read_bytes().startswith(b"%PDF")
    assert "I charge" in shell.said("job", "phone-card", job)


def test_a_yes_parts_and_the_bill(shell: Bench) -> None:
    job = shell.take_in()
    said = shell.said("job", "approve", job, "mend", "--who", "Ada", "--sum", "30", "--how", "by telephone")
    assert "Ada said yes to mend" in said
    assert "without a proof" in shell.said("job", "part", job, "ordered", "coil", "--price", "35")
    shell.said("job", "part", job, "fitted", "coil", "--condition", "new", "--number", "HV-1180")
    assert "fitted" in shell.said("job", "parts", job)
    bill = shell.said("job", "bill", job)
    assert "€35.00" in bill
    assert "€5.00 above the agreed sum" in bill
    assert "not a sum" in shell.refused("job", "approve", job, "mend", "--who", "A", "--sum", "lots", "--how", "x")


def test_the_clock_counts_from_tap_to_tap(shell: Bench) -> None:
    job = shell.take_in()
    shell.said("job", "clock", job, "started")
    assert "0 minutes" in shell.said("job", "clock", job, "paused")


def test_one_repair_over_two_machines_is_planned_and_kept_on_both(shell: Bench) -> None:
    jobs = [shell.take_in(), shell.take_in()]
    assert "saved" in shell.said("job", "round", "repair", "renew-plug", *jobs, "--plan")
    assert "Kept on 2 jobs" in shell.said("job", "round", "repair", "renew-plug", *jobs)
    assert "gremlins" in shell.refused("job", "round", "repair", "gremlins", *jobs)


def test_the_history_names_the_earlier_job_of_the_same_owner_and_kind(shell: Bench) -> None:
    first, second = shell.take_in(), shell.take_in()
    assert f"job {first}" in shell.said("job", "history", second)

"""How the command begins and ends: help, exit codes, and one clear message for every refusal."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import NoReturn

import click
import pytest

from firstpull.cli import main as main_module
from firstpull.cli.main import COMMANDS
from firstpull.cli.main import firstpull as group
from firstpull.cli.out import FAULT_OF_OURS
from tests.cli.running import Command

CASE = Path(__file__).resolve().parents[2] / "examples" / "cases" / "dark-with-the-lead-on.toml"


Done = subprocess.CompletedProcess[bytes]


def outside(*arguments: str, stdout: int | None = subprocess.PIPE, **environment: str) -> Done:
    """The command as a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "firstpull.cli.main", *arguments], stdout=stdout, stderr=subprocess.PIPE, check=False,
        env={**os.environ, **environment}, timeout=60,
    )


def test_help_names_every_command(firstpull: Command) -> None:
    ran = firstpull("--help")
    assert ran.code == 0
    assert all(name in ran.out for name in COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_of_its_own(firstpull: Command, name: str) -> None:
    ran = firstpull(name, "--help")
    assert ran.code == 0
    assert "Usage: firstpull" in ran.out


@pytest.mark.parametrize(
    "arguments", [["diagnose"], ["reason", "--wat"], ["job", "fly"], ["reason"], ["solve"], ["handbook", "list"]]
)
def test_a_command_that_is_not_there_is_refused(firstpull: Command, arguments: list[str]) -> None:
    firstpull(*arguments).refused()


def _fails(monkeypatch: pytest.MonkeyPatch, error: BaseException) -> None:
    @click.command()
    def broken() -> NoReturn:
        raise error

    monkeypatch.setitem(main_module.COMMANDS, "broken", "nowhere:broken")
    monkeypatch.setattr(type(group), "get_command", lambda *_: broken)


def test_the_disk_that_is_full_is_said_in_one_line(firstpull: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    _fails(monkeypatch, OSError(28, "No space left on device", "/somewhere/record.sqlite"))
    assert firstpull("broken").refused().startswith("/somewhere/record.sqlite: No space left on device")


def test_a_fault_of_ours_is_said_to_be_one_and_shows_its_trace_only_when_asked(
    firstpull: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    _fails(monkeypatch, ZeroDivisionError("division by zero"))
    ran = firstpull("broken")
    assert ran.code == FAULT_OF_OURS
    assert "fault in the program itself: ZeroDivisionError" in ran.err
    assert "Traceback" not in ran.err
    monkeypatch.setenv(main_module.TRACE_VARIABLE, "1")
    with pytest.raises(ZeroDivisionError):
        firstpull("broken")


def test_a_reader_that_has_gone_is_no_trouble() -> None:
    reader, writer = os.pipe()
    os.close(reader)
    ran = outside("handbook", "list", "checks", stdout=writer)
    os.close(writer)
    assert ran.stderr == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this machine has no /dev/full")
def test_an_output_without_room_is_one_sentence() -> None:
    with Path("/dev/full").open("wb") as full:
        ran = outside("handbook", "list", "checks", "--json", stdout=full.fileno())
    assert ran.returncode == 2
    assert len(ran.stderr.splitlines()) == 1
    assert b"No space left" in ran.stderr


def test_a_terminal_without_our_letters_gets_question_marks_and_no_traceback() -> None:
    ran = outside("handbook", "list", "checks", PYTHONIOENCODING="ascii")
    assert ran.returncode == 0
    assert ran.stderr == b""


def test_a_file_whose_name_is_not_utf_8_is_named_all_the_same() -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "firstpull.cli.main", "reason", b"/no/\xff.toml", "--json"], capture_output=True,
        check=False, timeout=60,
    )
    assert ran.returncode == 2
    assert b"Traceback" not in ran.stderr
    assert b'"error"' in ran.stdout

"""`firstpull record`: the record as files."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.at_the_shell import Shell


@pytest.fixture
def shell(tmp_path: Path) -> Shell:
    return Shell(tmp_path)


def test_a_backup_brings_the_record_back_into_an_empty_folder(shell: Shell, tmp_path: Path) -> None:
    shell.take_in()
    assert "1 jobs, 1 events, 1 people" in shell.said("record", "backup", "copy.sqlite")
    assert "1 jobs" in shell.said("record", "--data", str(tmp_path / "other"), "restore", "copy.sqlite")
    listed = shell.said("job", "--data", str(tmp_path / "other"), "list")
    assert "walk-mower-ohv" in listed


def test_a_record_with_jobs_is_replaced_only_after_a_yes(shell: Shell) -> None:
    shell.take_in()
    shell.said("record", "backup", "copy.sqlite")
    shell.take_in()
    assert shell.run("record", "restore", "copy.sqlite", answer="n\n").returncode == 1
    assert len(shell.said("job", "list").splitlines()) == 2
    shell.said("record", "restore", "copy.sqlite", answer="y\n")
    assert len(shell.said("job", "list").splitlines()) == 1


def test_a_file_that_is_no_backup_is_refused_and_the_record_stays(shell: Shell, tmp_path: Path) -> None:
    shell.take_in()
    (tmp_path / "junk").write_bytes(b"not a backup at all")
    assert "junk" in shell.refused("record", "restore", "--yes", "junk")
    assert "missing" in shell.refused("record", "restore", "--yes", "missing")
    assert len(shell.said("job", "list").splitlines()) == 1


def test_an_export_without_names_names_nobody_and_one_with_names_is_read_again(shell: Shell, tmp_path: Path) -> None:
    shell.take_in()
    shell.said("record", "export", "facts.jsonl", "--no-names")
    assert "Fenwright" not in (tmp_path / "facts.jsonl").read_text(encoding="utf-8")
    shell.said("record", "export", "all.jsonl")
    assert "Fenwright" in (tmp_path / "all.jsonl").read_text(encoding="utf-8")
    assert "1 rows" in shell.said("record", "export", "jobs.csv", "--table")
    other = str(tmp_path / "other")
    assert "1 events added" in shell.said("record", "--data", other, "import", "all.jsonl")
    assert "0 events added" in shell.said("record", "--data", other, "import", "all.jsonl")
    (tmp_path / "torn.jsonl").write_text('{"event": {"job"', encoding="utf-8")
    assert "line 1" in shell.refused("record", "--data", other, "import", "torn.jsonl")


def test_a_person_is_found_forgotten_and_not_found_again(shell: Shell) -> None:
    shell.take_in()
    person = shell.said("record", "people", "ada").split()[0]
    assert shell.run("record", "erase", person, answer="n\n").returncode == 1
    assert "jobs: 1" in shell.said("record", "erase", person, "--yes")
    assert shell.said("record", "people", "ada") == ""
    assert "nobody" in shell.refused("record", "erase", "p-none", "--yes")


def test_a_sound_record_is_found_sound_and_a_damaged_one_is_not(shell: Shell, tmp_path: Path) -> None:
    import sqlite3

    shell.take_in()
    assert "0 faults" in shell.said("record", "check")
    with sqlite3.connect(tmp_path / "data" / "record.sqlite") as file:
        for (name,) in file.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            file.execute(f'DROP TRIGGER "{name}"')
        file.execute("UPDATE events SET body = replace(body, 'walk-mower-ohv', 'walk-mower-ohw')")
    done = shell.run("record", "check")
    assert done.returncode == 1
    assert "1 faults" in done.stdout
    assert "salvage" in shell.said("record", "--help")

"""A stranger's worst day at the command line: no room, no rights, broken files. One clear word, and nothing is lost."""

from __future__ import annotations

import os
import random
import resource
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

# Loaded before the rights are given up: the command loads them late, and nobody may read this interpreter's folder.
from firstpull.bench import intake
from firstpull.bench.wiring import DATA_VARIABLE, DATABASE_VARIABLE
from firstpull.bench.worldroom import WorldRoom
from firstpull.cli import job
from firstpull.cli.main import main
from firstpull.workshop.storage import sqlite
from tests.cli.running import command

LOADED = (intake, job, sqlite)

ROOM = ["--who", "Ada Fenwright", "--number", "0555 0101", "--complaint", "won't start", "--limit", "80"]
NOBODY = 65534


def firstpull(data: Path, *arguments: str, largest: int | None = None) -> tuple[int, str, str]:
    """Run the command as a stranger's shell would; `largest` bounds every file it writes."""
    environment = {k: v for k, v in os.environ.items() if k != DATABASE_VARIABLE}
    environment |= {DATA_VARIABLE: str(data), "HOME": str(data), "PYTHONDONTWRITEBYTECODE": "1"}

    def before() -> None:
        if largest is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (largest, largest))

    done = subprocess.run(
        [sys.executable, "-m", "firstpull.cli.main", *arguments], capture_output=True, text=True, check=False,
        env=environment, preexec_fn=before, timeout=120,  # no threads here
    )
    assert "Traceback" not in done.stdout + done.stderr
    assert "fault in the program" not in done.stderr
    return done.returncode, done.stdout, done.stderr


def take_in(data: Path) -> tuple[int, str, str]:
    return firstpull(data, "job", "--by", "Wren", "take-in", *ROOM)


def test_a_disk_that_fills_up_gives_one_clear_word_and_what_was_kept_stays(tmp_path: Path) -> None:
    code, first, _ = take_in(tmp_path)
    assert code == 0
    size = max(p.stat().st_size for p in tmp_path.iterdir() if p.is_file())
    code, out, err = firstpull(tmp_path, "job", "--by", "Wren", "take-in", *ROOM, largest=size // 2)
    assert code == 2
    assert len(err.strip().splitlines()) == 1
    assert out == ""
    code, out, _ = firstpull(tmp_path, "job", "list")
    assert (code, out.split()[0]) == (0, first.strip())
    code, second, _ = take_in(tmp_path)
    assert code == 0
    assert second != first


@pytest.fixture
def reachable() -> Iterator[Path]:
    """A folder that every user can reach, unlike those of pytest."""
    place = Path(os.path.realpath(f"/tmp/firstpull-bad-input-{os.getpid()}"))
    place.mkdir(mode=0o755)
    yield place
    for path in place.iterdir():
        path.unlink()
    place.rmdir()


def as_nobody(work: Callable[[], object]) -> tuple[int, str]:
    """Exit code and what was said of work that is done in a child without special rights."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        code: Any = 1
        os.dup2(writer, 1)
        os.dup2(writer, 2)
        sys.stdout, sys.stderr = (os.fdopen(os.dup(1), "w") for _ in range(2))
        try:
            if os.getuid() == 0:
                os.setegid(NOBODY)
                os.seteuid(NOBODY)
            work()
        except SystemExit as end:
            code = end.code or 0
        except BaseException as error:
            sys.stderr.write(f"Traceback: {type(error).__name__}: {error}")
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(int(code))
    os.close(writer)
    with os.fdopen(reader) as pipe:
        said = pipe.read()
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), said


def test_a_folder_that_may_only_be_read_gives_one_clear_word_and_loses_nothing(reachable: Path) -> None:
    code, first, _ = take_in(reachable)
    assert code == 0
    record = reachable / "record.sqlite"
    before = record.read_bytes()
    record.chmod(0o444)
    reachable.chmod(0o555)
    try:
        code, said = as_nobody(lambda: main(["job", "--data", str(reachable), "--by", "Wren", "take-in", *ROOM]))
    finally:
        reachable.chmod(0o755)
        record.chmod(0o644)
    assert code == 2
    assert len(said.strip().splitlines()) == 1
    assert str(reachable) in said
    assert record.read_bytes() == before
    code, out, _ = firstpull(reachable, "job", "list")
    assert out.split()[0] == first.strip()


def test_a_data_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("a file", encoding="utf-8")
    code, out, err = take_in(tmp_path / "file" / "data")
    assert (code, out) == (2, "")
    assert str(tmp_path / "file") in err


@pytest.mark.parametrize("content", [b"", b"these are no tables", b"SQLite format 3\x00" + b"\xff" * 5000])
def test_a_record_that_is_none_is_named_and_left_as_it_is(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "record.sqlite").write_bytes(content)
    code, out, err = take_in(tmp_path)
    assert (code, out) == (2, "")
    assert "record.sqlite" in err
    assert (tmp_path / "record.sqlite").read_bytes() == content


@pytest.mark.parametrize("what", ["noise.toml", "", "none.toml", "/dev/null"])
@pytest.mark.parametrize("arguments", [["reason"], ["solve"], ["handbook", "check"]])
def test_files_that_cannot_be_read_are_named(
    tmp_path: Path, room: WorldRoom, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch,
    arguments: list[str], what: str,
) -> None:
    (tmp_path / "noise.toml").write_bytes(random.Random(1).randbytes(3000))
    path = tmp_path / what
    ran = command(tmp_path / "data", room, capsys, monkeypatch)(*arguments, path)
    if (arguments, what) == (["handbook", "check"], "/dev/null"):
        assert ran.code == 0  # an empty chapter is a chapter in which nothing is wrong
        return
    assert ran.code == 2
    assert str(path) in ran.out + ran.err
    assert "Traceback" not in ran.out + ran.err


def test_a_broken_chapter_stops_every_command_before_anything_is_written(tmp_path: Path) -> None:
    (tmp_path / "chapters").mkdir()
    (tmp_path / "chapters" / "own.toml").write_text('[[fault]]\nid = "x"\ncolour = "red"\n', encoding="utf-8")
    code, out, err = take_in(tmp_path)
    assert (code, out) == (2, "")
    assert "own.toml:" in err
    assert [p.name for p in tmp_path.iterdir()] == ["chapters"]

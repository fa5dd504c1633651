"""The first job of the docs is run as it is printed, from the counter to its owner."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest

from firstpull.bench.worldroom import WorldRoom
from tests.cli.running import Command, command
from tests.docs.reading import console_lines

PAGE = Path(__file__).resolve().parents[2] / "docs" / "first-job.md"


@pytest.fixture
def firstpull(
    tmp_path: Path, room: WorldRoom, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Command:
    """The command with an empty data folder."""
    return command(tmp_path / "data", room, capsys, monkeypatch)


def test_every_line_of_the_first_job_ends_as_it_says(firstpull: Command) -> None:
    lines = [line for line in console_lines(PAGE) if line.startswith("firstpull ")]
    assert len(lines) > 20
    for line in lines:
        ran = firstpull(*shlex.split(line, comments=True)[1:])
        assert ran.code == (2 if "# is refused" in line else 0), f"{line}\n{ran.out}{ran.err}"
    assert "handed-back" in firstpull("job", "list", "--all").out

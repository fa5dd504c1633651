"""The command as a fixture."""

from __future__ import annotations

from pathlib import Path

import pytest

from firstpull.bench.worldroom import WorldRoom
from tests.cli.running import Command, command


@pytest.fixture
def firstpull(
    tmp_path: Path, room: WorldRoom, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Command:
    """`firstpull` with an empty data folder."""
    return command(tmp_path / "data", room, capsys, monkeypatch)

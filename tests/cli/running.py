"""Runs the command inside the test process, with populations that other tests have made already."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from firstpull.bench import wiring, worldroom
from firstpull.bench.worldroom import WorldRoom
from firstpull.cli.main import main


@dataclass(frozen=True)
class Ran:
    """How a command ended and what it printed."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The one document on standard output; a number that is none fails."""
        return json.loads(self.out, parse_constant=pytest.fail)

    def refused(self) -> str:
        """The one clear message of a refusal, without a traceback."""
        assert self.code == 2
        assert "Traceback" not in self.out + self.err
        assert self.err.strip()
        return self.err


class Command:
    """`firstpull` with a data folder of its own."""

    def __init__(self, data: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.data, self._capsys = data, capsys

    def __call__(self, *arguments: str | Path) -> Ran:
        """Run it with these arguments."""
        code: Any = 0
        try:
            main([str(a) for a in arguments])
        except SystemExit as end:
            code = end.code or 0
        said = self._capsys.readouterr()
        return Ran(int(code), said.out, said.err)


def command(
    data: Path, room: WorldRoom, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Command:
    """The command in a data folder; where there is no own chapter it takes the populations that stand ready."""
    fresh = worldroom.open_room

    def shared(extra: Path | None = None, seed: int = 0, shelf: Path | None = None) -> WorldRoom:
        own = extra is not None and extra.is_dir() and any(extra.glob("*.toml"))
        return fresh(extra, seed, shelf) if own or seed else room

    monkeypatch.setattr(worldroom, "open_room", shared)
    monkeypatch.setattr(wiring, "open_room", shared)
    monkeypatch.setenv(wiring.DATA_VARIABLE, str(data))
    monkeypatch.delenv(wiring.DATABASE_VARIABLE, raising=False)
    return Command(data, capsys)

"""Whoever looks for the tests of a module finds them beside its name."""

from __future__ import annotations

from tests.gates.source import TESTS, modules, name_of

# Modules whose tests stand under another name, each with the reason. The list only shrinks.
ELSEWHERE = {
    "cli": "run as a command in tests/cli/test_commands.py",
    "engine/vocabulary": "read as a whole in tests/engine/test_vocabulary.py",
    "engine/constants": "read as a whole in tests/engine/test_constants.py",
    "engine/wiring": "asked for through the engine in tests/engine/test_wiring_*.py and test_<system>.py",
    "web/pages": "opened in a browser in tests/browser",
}


def _has_mirror(name: str) -> bool:
    room, _, file = name.rpartition("/")
    return (TESTS / room / f"test_{file}").exists()


def test_every_module_has_its_tests_in_the_same_place() -> None:
    names = [name_of(p) for p in modules() if p.name not in ("__init__.py", "__main__.py")]
    covered = [n for n in names if any(n.startswith(f"{room}/") for room in ELSEWHERE)]
    missing = [n for n in names if n not in covered and not _has_mirror(n)]
    assert missing == []

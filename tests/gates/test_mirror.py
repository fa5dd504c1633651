"""Whoever looks for the tests of a module finds them beside its name."""

from __future__ import annotations

from tests.gates.source import TESTS, modules, name_of

# Modules whose tests stand under another name, each with the reason. The list only shrinks.
ELSEWHERE = {
    "cli": "run as commands in tests/cli",
    "engine/vocabulary": "read as a whole in tests/engine/vocabulary",
    "engine/constants": "read as a whole in tests/engine/constants",
    "engine/wiring": "asked for through the engine in tests/engine/wiring",
    "web/pages": "opened in tests/web/pages and in a browser in tests/browser",
    "web/command.py": "started as a process by tests/browser",
    "web/server.py": "started as a process by tests/browser",
    "web/listening.py": "two doors are opened as a process in tests/browser/test_network.py",
    "web/opening.py": "the network door is opened as a process in tests/browser/test_network.py",
    "web/asking.py": "asked by a learner in tests/web/test_waiting.py",
    "web/viewer.py": "who asks is told apart in tests/web/test_gate.py",
    "web/render.py": "every page of tests/web/pages goes through it",
    "web/strip_picture.py": "drawn on the pages that tests/browser opens",
    "bench/pages": "what they hand to templates is read in tests/web/pages",
    "bench/drawing.py": "drawn on the pages that tests/browser opens",
    "bench/strips.py": "drawn on the pages that tests/browser opens",
    "bench/tools.py": "asked for through the settings page in tests/web/pages",
    "bench/paperwork": "printed and read back in tests/bench/test_printing.py and tests/bench/paperwork",
    "handbook/entries.py": "a schema, held by tests/handbook/test_schema.py and test_shipped.py",
    "handbook/findings.py": "what every test of tests/handbook reads",
    "handbook/noticed.py": "asked through tests/handbook/test_orphans.py and test_shipped.py",
    "handbook/pages": "rendered whole in tests/handbook/pages",
    "paper/chart_cut.py": "drawn through tests/paper/test_chart.py",
    "paper/chart_layout.py": "drawn through tests/paper/test_chart.py",
    "paper/chart_page.py": "drawn through tests/paper/test_chart.py",
    "paper/parts.py": "plain values, printed by tests/paper/test_press.py",
    "paper/sheets.py": "plain values, printed by tests/paper/test_press.py",
    "workshop/bodies.py": "checked through tests/workshop/test_events.py",
    "workshop/port.py": "a protocol, held by tests/workshop/storage/test_conformance.py",
    "workshop/storage": "one store, held as a whole by tests/workshop/storage/test_conformance.py and tests/hardship",
    "reasoning/adviser.py": "planned whole in tests/reasoning/test_planning_a_job.py",
    "reasoning/laying.py": "planned whole in tests/reasoning/test_planning_a_job.py",
    "reasoning/table.py": "planned whole in tests/reasoning/test_planning_a_job.py",
    "reasoning/explain.py": "planned whole in tests/reasoning/test_planning_a_job.py",
    "reasoning/acts.py": "plain values, folded in tests/reasoning/test_belief.py",
}


def _has_mirror(name: str) -> bool:
    room, _, file = name.rpartition("/")
    return (TESTS / room / f"test_{file}").exists()


def test_every_module_has_its_tests_in_the_same_place() -> None:
    names = [name_of(p) for p in modules() if p.name not in ("__init__.py", "__main__.py")]
    covered = [n for n in names if any(n == place or n.startswith(f"{place}/") for place in ELSEWHERE)]
    missing = [n for n in names if n not in covered and not _has_mirror(n)]
    assert missing == []


def test_every_exception_still_stands_for_something() -> None:
    names = [name_of(p) for p in modules()]
    assert [place for place in ELSEWHERE if not any(n == place or n.startswith(f"{place}/") for n in names)] == []

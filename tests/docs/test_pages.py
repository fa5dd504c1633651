"""The pages lead where they say, name what there is, and say nothing that does not belong there."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import click
import pytest

from firstpull.cli.main import firstpull
from tests.docs.reading import PAGES, ROOT, anchors, console_lines, links

ROOMS = sorted(p.name for p in (ROOT / "src" / "firstpull").iterdir() if (p / "__init__.py").exists())
COMMAND = re.compile(r"`(firstpull [^`]+)`")


def _named(page: Path) -> list[str]:
    """Every `firstpull ...` command that a page names."""
    typed = [line for line in console_lines(page) if line.startswith("firstpull ")]
    return typed + COMMAND.findall(page.read_text(encoding="utf-8"))


def _unknown(words: list[str]) -> str:
    """The first word of a command line that names neither a command nor an option it has."""
    group: click.Command = firstpull
    context = click.Context(group)
    for word in words:
        if word.startswith("-"):
            options = {name for p in group.params for name in p.opts}
            if word.partition("=")[0] not in {*options, "--help", "-h"}:
                return word
        elif isinstance(group, click.Group):
            found = group.get_command(context, word)
            if found is None:
                return word
            group = found
    return ""


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_every_link_leads_somewhere(page: Path) -> None:
    for link in links(page):
        if link.startswith(("http://", "https://")):
            continue
        place, _, anchor = link.partition("#")
        target = (page.parent / place).resolve() if place else page
        assert target.exists(), f"{page.name} links to {link}"
        assert not anchor or anchor in anchors(target), f"{page.name} links to {link}"


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_every_command_and_option_that_is_named_exists(page: Path) -> None:
    for line in _named(page):
        assert _unknown(shlex.split(line, comments=True)[1:]) == "", f"{page.name}: {line}"


def test_a_command_that_does_not_exist_would_be_noticed() -> None:
    assert _unknown(["diagnose"]) == "diagnose"
    assert _unknown(["job", "fly", "1"]) == "fly"
    assert _unknown(["reason", "case.toml", "--wat"]) == "--wat"


def test_every_make_target_of_the_readme_is_in_the_makefile() -> None:
    named = set(re.findall(r"make (\w+)", (ROOT / "README.md").read_text(encoding="utf-8")))
    targets = set(re.findall(r"^(\w+):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE))
    assert {"run", "test", "setup"} <= named <= targets


def test_the_map_names_every_room_and_a_file_of_it_to_read_first() -> None:
    text = (ROOT / "docs" / "map.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `(\w+)/` \|[^|]+\| `([\w./]+)` \|$", text, re.MULTILINE)
    assert sorted(room for room, _ in rows) == ROOMS
    for room, file in rows:
        assert (ROOT / "src" / "firstpull" / room / file).exists(), f"{room}/{file}"


def test_every_path_that_the_map_and_the_readme_name_exists() -> None:
    for page in ("docs/map.md", "README.md"):
        text = (ROOT / page).read_text(encoding="utf-8")
        for path in re.findall(r"`((?:src|docs|examples|benchmarks|tests)/[\w./-]*)`", text):
            assert (ROOT / path).exists(), f"{page}: {path}"


def test_every_word_of_the_list_stands_there_once() -> None:
    text = (ROOT / "docs" / "words.md").read_text(encoding="utf-8")
    words = [w for w in re.findall(r"^\| ([^|]+) \|", text, re.MULTILINE) if w not in ("word", "---")]
    assert len(words) == len(set(words))
    assert {
        "complaint", "told", "fault", "check", "reading", "access item", "arrangement", "repair", "step", "proof",
        "job", "variant", "state", "population", "belief", "suspect",
    } <= set(words)


def test_the_readme_begins_with_whom_it_is_for() -> None:
    first = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")[1]
    assert first.startswith("For one person")
    assert "hard because" in first


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_no_page_holds_a_path_of_somebodys_machine(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    assert not re.search(r"/(?:root|work|home)/|TODO|FIXME", text)

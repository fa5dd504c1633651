"""`firstpull handbook`: its lists, and what is wrong with a chapter."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from firstpull.cli.out import say_json


@click.group()
def handbook() -> None:
    """What the handbook holds, and whether a chapter can be used."""


@handbook.command("list")
@click.argument("kind")
@click.option("--json", "as_json", is_flag=True, help="Everything as one JSON document.")
@click.option("--chapters", type=click.Path(path_type=Path), default=None, help="Folder of own chapters.")
def list_entries(kind: str, as_json: bool, chapters: Path | None) -> None:
    """List all KIND: faults, checks, repairs, access, complaints, told or machines."""
    from firstpull.bench.catalogue import listing
    from firstpull.bench.worldroom import open_room

    found = listing(open_room(chapters).book, kind)
    if as_json:
        say_json(found, indent=1)
        return
    for entry in found:
        click.echo(f"{entry['id']:<34} {entry['name']:<44} {entry['system']:<16} {' '.join(entry['numbers'])}".rstrip())


@handbook.command()
@click.argument("path", type=click.Path(path_type=Path))
def check(path: Path) -> None:
    """Say everything that is wrong with the chapter or folder at PATH."""
    from firstpull.bench.catalogue import problems

    wrong, missing = problems(path)
    for problem in wrong:
        click.echo(f"wrong: {problem}")
    for gap in missing:
        click.echo(f"missing: {gap}")
    click.echo(f"{len(wrong)} wrong, {len(missing)} missing")
    sys.exit(2 if wrong else 0)

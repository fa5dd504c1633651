"""`firstpull handbook`: its lists, and what is wrong with a chapter."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click


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
        click.echo(json.dumps(found, ensure_ascii=False, indent=1))
        return
    for entry in found:
        click.echo(f"{entry['id']:<34} {entry['name']:<44} {entry['system']:<16} {' '.join(entry['numbers'])}".rstrip())


@handbook.command()
@click.argument("path", type=click.Path(path_type=Path))
def check(path: Path) -> None:
    """Say everything that is wrong with the chapter or folder at PATH."""
    from firstpull.bench.catalogue import problems

    found = problems(path)
    for problem in found:
        click.echo(str(problem))
    faults = [p for p in found if not str(p).startswith("missing:")]
    click.echo(f"{len(faults)} wrong, {len(found) - len(faults)} missing")
    sys.exit(2 if faults else 0)

"""`firstpull reason`: what is wrong with the machine of a case file, and what to do next."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from firstpull.base.errors import FirstpullError, InputError
from firstpull.cli.out import Seconds, say_error, say_json


@click.command()
@click.argument("case", type=click.Path(path_type=Path), required=False)
@click.option("--json", "as_json", is_flag=True, help="Everything as one JSON document.")
@click.option("--play", "playing", is_flag=True, help="Many jobs over a line protocol on standard input.")
@click.option("--seconds", type=Seconds(), default=None, help="Bounds the thinking.")
@click.option("--effort", type=click.IntRange(min=1, max=4), default=None, help="Bounds it alike everywhere: 1 to 4.")
@click.option("--tree", type=click.IntRange(min=1, max=6), default=None, help="What follows, N steps deep.")
@click.option("--chapters", type=click.Path(path_type=Path), default=None, help="Folder of own chapters.")
def reason(
    case: Path | None, as_json: bool, playing: bool, seconds: float | None, effort: int | None, tree: int | None,
    chapters: Path | None,
) -> None:
    """Rank the suspects of CASE (a TOML file) and propose the next step."""
    from firstpull.bench.stateless import effort_for, error_dict, play, reason_file
    from firstpull.bench.worldroom import open_room, shelf_folder

    how_hard = effort_for(seconds, effort)
    if playing:
        room = open_room(chapters, shelf=shelf_folder())
        play(room, sys.stdin, sys.stdout, how_hard)
        room.keep()
        return
    try:
        if case is None:
            raise InputError("no case file", "reason", "firstpull reason CASE.toml, or --play")
        room = open_room(chapters, shelf=shelf_folder())
        found = reason_file(room, case, how_hard, tree or 0)
        room.keep()
    except FirstpullError as error:
        if as_json:
            say_json({"error": error_dict(error)})
        say_error(str(error))
        sys.exit(2)
    if as_json:
        say_json(found, indent=1)
        return
    click.echo(words(found))


def words(found: dict[str, Any]) -> str:
    """An answer as a few lines for a person."""
    lines = ["Suspects"]
    for suspect in found["suspects"][:6]:
        name = " + ".join(suspect["faults"]) or "nothing wrong"
        lines.append(f"  {suspect['probability'] * 100:3.0f} in 100  {name}")
    step = found["next"]
    lines += ["", f"Next: {step['name']} ({step['minutes']:.0f} min)"]
    lines += [f"  ! {c['text']}" for c in step["cautions"]]
    lines += [f"  {m['item']}: {m['state']}" for m in step["access"]]
    lines += [f"  {step['why']}"]
    if found["state"]["cannot_be_stopped"]:
        lines.insert(0, "THIS ENGINE CANNOT BE STOPPED as it stands.\n")
    away = [*found["state"]["off"], *found["state"]["added"]]
    lines += ["", "Away from rest: " + (", ".join(away) or "nothing")]
    cost = found["cost"]
    low, high = cost["minutes"]["low"], cost["minutes"]["high"]
    lines += [f"To the end: about {cost['minutes']['expected']:.0f} min ({low:.0f} to {high:.0f})"]
    if found["surprise"]["p_value"] < 0.02:
        lines += [f"These readings fit badly together; the odd one is {found['surprise']['odd_one']}."]
    if "tree" in found:
        lines += ["", "From there, step by step", *found["tree"]]
    return "\n".join(lines)

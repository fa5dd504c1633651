"""`firstpull solve`: the planner alone on an abstract troubleshooting problem."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from firstpull.base.errors import FirstpullError
from firstpull.cli.out import Seconds, say_error, say_json


@click.command()
@click.argument("problem", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="The answer as one JSON document.")
@click.option("--play", "playing", is_flag=True, help="Follow the policy line by line on standard input.")
@click.option("--seconds", type=Seconds(), default=None, help="Bounds the thinking.")
def solve(problem: Path, as_json: bool, playing: bool, seconds: float | None) -> None:
    """Find the least expected cost of PROBLEM (a JSON file) and what is proven of it."""
    from firstpull.bench.solving import play_problem, solve_problem
    from firstpull.bench.stateless import error_dict

    try:
        if playing:
            play_problem(problem, sys.stdin, sys.stdout, seconds)
            return
        found = solve_problem(problem, seconds)
    except FirstpullError as error:
        if as_json or playing:
            say_json({"error": error_dict(error)})
        say_error(str(error))
        sys.exit(2)
    if as_json:
        say_json(found)
        return
    proven = "proven" if found["proven"] else "not proven"
    gap = "unknown" if found["gap"] is None else f"{found['gap'] * 100:.2f} %"
    click.echo(
        f"first {found['first']}, expected {found['expected_cost']:.3f}, at least {found['lower_bound']:.3f}, "
        f"gap {gap}, {proven}"
    )

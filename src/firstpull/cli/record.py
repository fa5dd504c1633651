"""`firstpull record`: the record as files, forgetting a person, and a check of it all."""

from __future__ import annotations

import getpass
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from firstpull.bench.shop import Shop

FILE = click.Path(path_type=Path)


@click.group()
@click.option("--data", type=FILE, default=None, help="The workshop's data folder.")
@click.pass_context
def record(ctx: click.Context, data: Path | None) -> None:
    """Back up, restore, carry over and check the record."""
    ctx.obj = data


def _shop(ctx: click.Context) -> Shop:
    from firstpull.bench.wiring import data_folder, open_shop

    return open_shop(data_folder(ctx.obj))


@record.command()
@click.argument("file", type=FILE)
@click.pass_context
def backup(ctx: click.Context, file: Path) -> None:
    """Write the whole record to FILE; work may go on meanwhile."""
    from firstpull.bench.backup import back_up

    made = back_up(_shop(ctx), file)
    click.echo(f"{made.jobs} jobs, {made.events} events, {made.people} people in {made.path}")


@record.command()
@click.argument("file", type=FILE)
@click.option("--yes", is_flag=True, help="Replace what is here without asking.")
@click.pass_context
def restore(ctx: click.Context, file: Path, yes: bool) -> None:
    """Replace the record by the backup in FILE. Whoever was erased since stays erased."""
    from firstpull.bench.backup import restore as back

    shop = _shop(ctx)
    if shop.store.jobs(limit=1) and not yes:
        click.confirm("The record here is replaced. Go on?", abort=True)
    made = back(shop, file)
    click.echo(f"{made.jobs} jobs, {made.events} events, {made.people} people from {made.path}")


@record.command("export")
@click.argument("file", type=FILE)
@click.option("--no-names", is_flag=True, help="Engine facts only: no names, no contacts, no free words.")
@click.option("--table", is_flag=True, help="One row a job, engine facts only.")
@click.pass_context
def export_(ctx: click.Context, file: Path, no_names: bool, table: bool) -> None:
    """Write everything to FILE, one line an event."""
    from firstpull.bench.backup import export

    written = export(_shop(ctx), file, names=not no_names, table=table)
    click.echo(f"{written} {'rows' if table else 'lines'} in {file}")


@record.command("import")
@click.argument("file", type=FILE)
@click.pass_context
def import_(ctx: click.Context, file: Path) -> None:
    """Read what the export wrote; what is already here stays."""
    from firstpull.bench.backup import take_over

    click.echo(f"{take_over(_shop(ctx), file)} events added")


@record.command()
@click.argument("file", type=FILE)
@click.pass_context
def salvage(ctx: click.Context, file: Path) -> None:
    """Bring over from the damaged record in FILE whatever can be read."""
    from firstpull.bench.backup import salvage as rescue

    found = rescue(_shop(ctx), file)
    click.echo(f"{found.events} events and {found.people} people brought over, {found.lost} rows lost")


@record.command()
@click.argument("text")
@click.pass_context
def people(ctx: click.Context, text: str) -> None:
    """Find people by name or number, with the ids by which they are forgotten."""
    from firstpull.bench.backup import people as find

    for person, fields in find(_shop(ctx), text):
        click.echo(f"{person}  {', '.join(str(v) for v in fields.values())}")


@record.command()
@click.argument("person")
@click.option("--by", default=None, help="Who is at the bench.")
@click.option("--yes", is_flag=True, help="Forget without asking.")
@click.pass_context
def erase(ctx: click.Context, person: str, by: str | None, yes: bool) -> None:
    """Forget PERSON (an id) for ever: names, contacts, words and photos. Engine facts stay."""
    from firstpull.bench.backup import erase as forget

    if not yes:
        click.confirm(f"{person} is forgotten for ever. Go on?", abort=True)
    jobs = forget(_shop(ctx), person, by=by or getpass.getuser())
    click.echo(f"{person} is forgotten; jobs: {', '.join(jobs) or 'none'}")


@record.command()
@click.pass_context
def check(ctx: click.Context) -> None:
    """Read the whole record and report every fault."""
    from firstpull.bench.backup import check as read_all

    found = read_all(_shop(ctx))
    for fault in found.faults:
        click.echo(fault)
    click.echo(f"{found.events} events read, {len(found.faults)} faults")
    if found.faults:
        raise SystemExit(1)

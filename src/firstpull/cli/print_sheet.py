"""`firstpull print`: a sheet of a job as a PDF."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("print")
@click.argument("number")
@click.argument("kind")
@click.option("--out", type=click.Path(path_type=Path), default=None, help="Where the PDF goes.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True)
@click.option("--data", type=click.Path(path_type=Path), default=None, help="The workshop's data folder.")
def print_sheet(number: str, kind: str, out: Path | None, paper: str, data: Path | None) -> None:
    """Print KIND of job NUMBER.

    KIND is tag, receipt, work-sheet, chart, estimate, approval, bill, hand-over, returned or abandoned.
    """
    from firstpull.bench.printing import file_name
    from firstpull.bench.printing import print_sheet as printed
    from firstpull.bench.wiring import data_folder, open_shop

    made = printed(open_shop(data_folder(data)), number, kind, paper)
    place = out or Path(file_name(number, kind))
    place.write_bytes(made)
    click.echo(str(place))

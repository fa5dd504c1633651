"""`firstpull serve` and `firstpull demo`: the pages on this machine."""

from __future__ import annotations

from pathlib import Path

import click


@click.command()
@click.option("--data", type=click.Path(path_type=Path), default=None, help="The workshop's data folder.")
@click.option("--port", type=click.IntRange(1, 65535), default=8765, show_default=True)
def serve(data: Path | None, port: int) -> None:
    """Open the workshop's pages at 127.0.0.1 and nowhere else."""
    from firstpull.bench.daily import keep_copies
    from firstpull.bench.wiring import data_folder, open_shop
    from firstpull.web.server import run

    folder = data_folder(data)
    click.echo(f"The workshop in {folder} is open at http://127.0.0.1:{port}/")
    shop = open_shop(folder)
    keep_copies(shop, folder / "copies")
    run(shop, port)


@click.command()
@click.option("--data", type=click.Path(path_type=Path), default=None, help="The demonstration's data folder.")
@click.option("--port", type=click.IntRange(1, 65535), default=8765, show_default=True)
def demo(data: Path | None, port: int) -> None:
    """Open the invented workshop of Harrow Vale, filled with a handful of jobs."""
    from firstpull.bench.demo import open_demo
    from firstpull.web.server import run

    shop, folder = open_demo(data)
    click.echo(f"The demonstration in {folder} is open at http://127.0.0.1:{port}/")
    run(shop, port)

"""`firstpull serve` and `firstpull demo`: the pages on this machine."""

from __future__ import annotations

from pathlib import Path

import click


@click.command()
@click.option("--data", type=click.Path(path_type=Path), default=None, help="The workshop's data folder.")
@click.option("--port", type=click.IntRange(1, 65534), default=8765, show_default=True)
@click.option("--lan", is_flag=True, help="Open a door to the network too, one port further; devices must be paired.")
@click.option("--https", is_flag=True, help="With --lan: close the line with a certificate of this workshop's own.")
@click.option("--name", "names", multiple=True, help="With --lan: an address or name that phones use.")
@click.option("--here", type=click.Choice(["owner", "bench", "counter", "learner", "instructor"]), default="owner",
              show_default=True, help="What this screen itself stands for.")
def serve(data: Path | None, port: int, lan: bool, https: bool, names: tuple[str, ...], here: str) -> None:
    """Open the workshop's pages at 127.0.0.1, and nowhere else unless --lan says so."""
    from firstpull.base.errors import InputError
    from firstpull.bench.daily import keep_copies
    from firstpull.bench.wiring import data_folder, open_shop
    from firstpull.web.doors import bench_door
    from firstpull.web.gate import open_gate
    from firstpull.web.opening import network_door
    from firstpull.web.roles import Role
    from firstpull.web.server import run

    if (https or names) and not lan:
        raise InputError("nothing is opened to the network", "--https, --name", "with --lan")
    folder = data_folder(data)
    shop = open_shop(folder)
    door, papers = network_door(folder, port + 1, https, names) if lan else (None, None)
    gate = open_gate(folder, bench_door(port), door, Role(here))
    click.echo(f"The workshop in {folder} is open at {gate.bench.address}/")
    if door is not None:
        click.echo(f"To the network it is open at {door.address}/ for devices paired at {gate.bench.address}/devices")
        words = f"Its fingerprint (SHA-256) is {door.fingerprint}" if https else "Others on the network can read along."
        click.echo(words)
    keep_copies(shop, folder / "copies")
    run(shop, gate, papers)


@click.command()
@click.option("--data", type=click.Path(path_type=Path), default=None, help="The demonstration's data folder.")
@click.option("--port", type=click.IntRange(1, 65535), default=8765, show_default=True)
def demo(data: Path | None, port: int) -> None:
    """Open the invented workshop of Harrow Vale, filled with a handful of jobs."""
    from firstpull.bench.demo import open_demo
    from firstpull.web.doors import bench_door
    from firstpull.web.gate import open_gate
    from firstpull.web.server import run

    shop, folder = open_demo(data)
    gate = open_gate(folder, bench_door(port))
    click.echo(f"The demonstration in {folder} is open at {gate.bench.address}/")
    run(shop, gate)

"""`firstpull shop`: who this shop is and what it charges."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from firstpull.cli.out import say_json

if TYPE_CHECKING:
    from firstpull.bench.shop import Shop


@click.group()
@click.option("--data", type=click.Path(path_type=Path), default=None, help="The workshop's data folder.")
@click.pass_context
def shop(ctx: click.Context, data: Path | None) -> None:
    """Say who this shop is and what it charges."""
    ctx.obj = data


def _shop(ctx: click.Context) -> Shop:
    from firstpull.bench.wiring import data_folder, open_shop

    return open_shop(data_folder(ctx.obj))


def _changed(held: dict[str, Any], pairs: tuple[str, ...]) -> dict[str, Any]:
    """What is held, with KEY=VALUE put over it; a value may be JSON."""
    for pair in pairs:
        key, found, text = pair.partition("=")
        if not found:
            raise click.BadParameter(f"'{pair}' is not KEY=VALUE")
        held[key] = _value(text)
    return held


def _value(text: str) -> Any:
    """A list, a table, a yes or a no as JSON; a sum stays text, so that it never passes through a binary fraction."""
    if text[:1] not in "[{" and text not in ("true", "false", "null"):
        return text
    try:
        return json.loads(text)
    except ValueError as error:
        raise click.BadParameter(f"{error}; a list looks like [\"3 Mill Yard\", \"Tuesday to Saturday\"]") from error


@shop.command()
@click.argument("pairs", nargs=-1)
@click.pass_context
def words(ctx: click.Context, pairs: tuple[str, ...]) -> None:
    """Show or change name, lines, currency, locale, terms, warranty, address, period_days, as KEY=VALUE."""
    from firstpull.bench.ourselves import keep_shop_words, ourselves

    found = _shop(ctx)
    held = ourselves(found).words
    if pairs:
        held = keep_shop_words(found, _changed(held.model_dump(mode="json"), pairs))
    say_json(held.model_dump(mode="json"), indent=1)


@shop.command()
@click.argument("pairs", nargs=-1)
@click.pass_context
def charges(ctx: click.Context, pairs: tuple[str, ...]) -> None:
    """Show or change what is charged: rate_per_hour, find_fee, minimum, tax, mark_up and so on, as KEY=VALUE."""
    from firstpull.bench.ourselves import charges as held_charges
    from firstpull.bench.ourselves import keep_charges

    found = _shop(ctx)
    held = held_charges(found)
    if pairs:
        held = keep_charges(found, _changed(held.model_dump(mode="json"), pairs))
    say_json({"rate_per_hour": found.prices().rate_per_hour, **held.model_dump(mode="json")}, indent=1)

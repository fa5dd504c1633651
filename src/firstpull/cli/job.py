"""`firstpull job`: one machine from taking in to handing back, at the command line."""

from __future__ import annotations

import getpass
import json
import uuid
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from firstpull.cli.out import say_json

if TYPE_CHECKING:
    from firstpull.bench.shop import Done, Shop

NEGATIVE = {"ignore_unknown_options": True}  # "-5 mV" is a reading and no option


@click.group()
@click.option("--data", type=click.Path(path_type=Path), default=None, help="The workshop's data folder.")
@click.option("--by", default=None, help="Who is at the bench.")
@click.pass_context
def job(ctx: click.Context, data: Path | None, by: str | None) -> None:
    """Take a machine in, find, repair, prove, and hand it back."""
    ctx.obj = {"data": data, "by": by or getpass.getuser()}


def shop_of(ctx: click.Context) -> Shop:
    """The workshop that this command is about."""
    from firstpull.bench.wiring import data_folder, open_shop

    return open_shop(data_folder(ctx.obj["data"]))


def act() -> str:
    """A fresh id for one act."""
    return uuid.uuid4().hex


def how(ctx: click.Context, shop: Shop, number: str) -> dict[str, Any]:
    """Who acts, and on which version of the job: the newest, since this command has just read it."""
    return {"act_id": act(), "based_on": shop.record(number).last_seq, "by": ctx.obj["by"]}


def _report(shop: Shop, number: str, done: Done) -> None:
    from firstpull.bench.find import keep_advice, what_next
    from firstpull.cli.reason import words

    if done.waits:
        click.echo("Somebody else changed this job meanwhile. Look at it and enter it again.", err=True)
        raise SystemExit(3)
    if not shop.record(number).machine_class:
        click.echo(f"Kept on job {number}. Say which kind of machine it is before anything can be reckoned.")
        return
    said = what_next(shop, number)
    keep_advice(shop, number, said, act_id=act())
    click.echo(words(said))


@job.command("take-in")
@click.option("--who", required=True, help="Who brought it.")
@click.option("--number", required=True, help="Where they can be reached.")
@click.option("--complaint", required=True, help="In the customer's words.")
@click.option("--limit", required=True, help="Spending limit.")
@click.option("--machine", default="", help="Machine class.")
@click.option("--told", multiple=True, help="A told fact; may be given several times.")
@click.pass_context
def take_in(
    ctx: click.Context, who: str, number: str, complaint: str, limit: str, machine: str, told: tuple[str, ...]
) -> None:
    """Take a machine in; prints its number."""
    from firstpull.bench.intake import Counter
    from firstpull.bench.intake import take_in as take

    said = Counter(who, number, complaint, limit, machine, told)
    click.echo(take(shop_of(ctx), said, act_id=act(), by=ctx.obj["by"]))


@job.command()
@click.argument("number")
@click.argument("machine")
@click.pass_context
def kind(ctx: click.Context, number: str, machine: str) -> None:
    """Say which kind of MACHINE it is, when that was not known at the counter."""
    from firstpull.bench.intake import name_kind

    shop = shop_of(ctx)
    _report(shop, number, name_kind(shop, number, machine, **how(ctx, shop, number)))


@job.command("list")
@click.option("--all", "everything", is_flag=True, help="Closed ones too.")
@click.pass_context
def list_jobs(ctx: click.Context, everything: bool) -> None:
    """List the jobs on the rack."""
    for line in shop_of(ctx).store.jobs(open_only=not everything):
        click.echo(f"{line.number:>6}  {line.stage:<16} {line.machine_class:<24} {', '.join(line.complaint)}")


@job.command()
@click.argument("number")
@click.option("--json", "as_json", is_flag=True, help="Everything as one JSON document.")
@click.pass_context
def show(ctx: click.Context, number: str, as_json: bool) -> None:
    """Show what is known of a job and what comes next."""
    from firstpull.bench.find import what_next
    from firstpull.cli.reason import words

    shop = shop_of(ctx)
    found = what_next(shop, number)
    if as_json:
        say_json(found, indent=1)
        return
    click.echo(f"Job {number}, {shop.record(number).stage}\n\n{words(found)}")


@job.command(context_settings=NEGATIVE)
@click.argument("number")
@click.argument("check")
@click.argument("reading")
@click.option("--with", "pairs", multiple=True, help="drive=drill, thermal=hot, choke=part, load=full.")
@click.option("--while", "mood", type=click.Choice(["failing", "fine", "unknown"]), default="unknown")
@click.option("--times", type=click.IntRange(1, 20), default=1, help="How many times it gave this.")
@click.pass_context
def read(
    ctx: click.Context, number: str, check: str, reading: str, pairs: tuple[str, ...], mood: str, times: int
) -> None:
    """Enter what CHECK gave: an outcome, a number with its unit, or not-possible, not-done, now-and-then."""
    raw: dict[str, Any] = {"check": check, "reading": _value(reading), "while": mood, "times": times}
    if pairs:
        raw["with"] = {key: word for key, _, word in (pair.partition("=") for pair in pairs)}
    _enter(ctx, number, raw)


def _value(text: str) -> Any:
    """A reading typed as JSON when it is a table or a list, else as it is."""
    if text[:1] in "{[":
        try:
            return json.loads(text)
        except ValueError as error:
            raise click.BadParameter(f"{error}; a table looks like {{\"loss\": \"40 %\"}}") from error
    return text


def _enter(ctx: click.Context, number: str, raw: dict[str, Any]) -> None:
    from firstpull.bench.find import enter

    shop = shop_of(ctx)
    _report(shop, number, enter(shop, number, raw, **how(ctx, shop, number)))


@job.command()
@click.argument("number")
@click.argument("item")
@click.pass_context
def off(ctx: click.Context, number: str, item: str) -> None:
    """Enter that ITEM came off, was opened, unplugged, drained; or that a thing of ours was taken away."""
    _enter(ctx, number, {"access": item, "state": "off"})


@job.command()
@click.argument("number")
@click.argument("item")
@click.pass_context
def on(ctx: click.Context, number: str, item: str) -> None:
    """Enter that ITEM went back on; or that a thing of ours was fitted."""
    _enter(ctx, number, {"access": item, "state": "on"})


@job.command()
@click.argument("number")
@click.argument("repair")
@click.option("--by-owner", "whose", flag_value="owner", help="Done by the owner.")
@click.option("--by-previous", "whose", flag_value="previous", help="Done by somebody before.")
@click.pass_context
def repair(ctx: click.Context, number: str, repair: str, whose: str | None) -> None:
    """Enter that REPAIR was done."""
    _enter(ctx, number, {"repair": repair, "by": whose or "shop"})


@job.command()
@click.argument("number")
@click.argument("fact")
@click.argument("answer", type=click.Choice(["yes", "no", "unknown"]), default="yes")
@click.pass_context
def tell(ctx: click.Context, number: str, fact: str, answer: str) -> None:
    """Enter what the customer told about FACT."""
    _enter(ctx, number, {"told": fact, "answer": answer})


@job.command(context_settings=NEGATIVE)
@click.argument("number")
@click.argument("name")
@click.argument("value")
@click.argument("unit")
@click.pass_context
def value(ctx: click.Context, number: str, name: str, value: str, unit: str) -> None:
    """Write down a value that was set: NAME VALUE UNIT."""
    from firstpull.bench.find import set_value

    shop = shop_of(ctx)
    set_value(shop, number, name, value, unit, **how(ctx, shop, number))
    click.echo("Kept.")


@job.command()
@click.argument("number")
@click.pass_context
def undo(ctx: click.Context, number: str) -> None:
    """Withdraw the last thing that was entered."""
    from firstpull.bench.find import last_act
    from firstpull.bench.find import undo as withdraw

    shop = shop_of(ctx)
    who = how(ctx, shop, number)
    last, name = last_act(shop.record(number))
    click.echo(f"Withdrawn: {name}")
    _report(shop, number, withdraw(shop, number, last, **who))


@job.command("proofs")
@click.argument("number")
@click.pass_context
def proofs(ctx: click.Context, number: str) -> None:
    """Show what stands between the machine and the way out as working."""
    from firstpull.bench.release import door

    found = door(shop_of(ctx), number)
    for proof in found.proofs:
        click.echo(f"{proof.result:<10} {proof.name} ({proof.check}, {proof.times} times)")
    for hindrance in found.verdict.hindrances:
        if hindrance.kind != "proof":
            click.echo(f"{'stands':<10} {hindrance.what}")
    click.echo("May leave as working." if found.verdict.allowed else "Not yet.")


@job.command()
@click.argument("number")
@click.option("--reason", multiple=True, help="ITEM=WORDS: a written reason for what touches nobody's safety.")
@click.pass_context
def release(ctx: click.Context, number: str, reason: tuple[str, ...]) -> None:
    """Release the machine as working."""
    from firstpull.bench.release import release_working

    shop = shop_of(ctx)
    reasons = {item: words for item, _, words in (r.partition("=") for r in reason)}
    release_working(shop, number, reasons, **how(ctx, shop, number))
    click.echo(f"Job {number} is released as working.")


@job.command("return")
@click.argument("number")
@click.option("--why", required=True, help="Declined, not found, not worth it, unsafe.")
@click.pass_context
def return_unmended(ctx: click.Context, number: str, why: str) -> None:
    """Hand the machine back not repaired, its state in writing."""
    from firstpull.bench.release import return_unmended as back

    shop = shop_of(ctx)
    done = back(shop, number, why, **how(ctx, shop, number))
    body = done.record.release.body if done.record.release else {}
    click.echo(f"Job {number} goes back not repaired.")
    for line in [*body.get("missing", []), *body.get("unsafe", [])]:
        click.echo(f"  {line}")


@job.command("hand-back")
@click.argument("number")
@click.option("--to", required=True, help="Who took it.")
@click.option("--fuel", default="", help="Fuel left in it, dated.")
@click.option("--paid", default="", help="What was paid.")
@click.option("--how-paid", default="", help="Cash, card, later.")
@click.option("--loose", "loose_bits", multiple=True, help="A loose bit in the bag; may be given several times.")
@click.option("--old-part", "old_parts", multiple=True, help="An old part given back; may be given several times.")
@click.option("--refused", multiple=True, help="What was refused as unsafe; may be given several times.")
@click.pass_context
def hand_back(ctx: click.Context, /, number: str, to: str, fuel: str, **said: Any) -> None:
    """Hand the machine over."""
    from firstpull.bench.release import WithIt
    from firstpull.bench.release import hand_back as give

    shop = shop_of(ctx)
    give(shop, number, to, fuel, with_it=WithIt(**said), **how(ctx, shop, number))
    click.echo(f"Job {number} is handed back.")

"""The commands of `firstpull job` about money, parts and minutes; importing this adds them to the group."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from firstpull.cli.job import act, how, job, shop_of

if TYPE_CHECKING:
    from firstpull.bench.shop import Done

__all__ = ["job"]


def _kept(done: Done) -> None:
    """Stop when somebody else changed the job meanwhile."""
    if done.waits:
        click.echo("Somebody else changed this job meanwhile. Look at it and enter it again.", err=True)
        raise SystemExit(3)


def _warn(said: tuple[str, ...]) -> None:
    for words in said:
        click.echo(f"! {words}")


@job.command()
@click.argument("number")
@click.option("--look", is_flag=True, help="Show it without keeping it.")
@click.option("--how", "way", default="", help="By what way it is said: telephone, counter, paper.")
@click.pass_context
def estimate(ctx: click.Context, number: str, look: bool, way: str) -> None:
    """Make the estimate as things stand and keep it as it was said."""
    from firstpull.bench.estimating import look_estimate, make_estimate

    shop = shop_of(ctx)
    if look:
        said = look_estimate(shop, number)
    else:
        done, said = make_estimate(shop, number, how=way, **how(ctx, shop, number))
        _kept(done)
    click.echo(f"{said.standing}: {said.low} to {said.high}, usually {said.usual}")
    for one in said.likely:
        click.echo(f"\n{one.name} ({one.odds}): {one.low} to {one.high}")
        for line in one.lines:
            click.echo(f"  {line.usual or '':>12}  {line.name}{f' ({line.condition})' if line.condition else ''}")
    if said.left_over:
        click.echo(f"\nSomething else: {said.left_over}")
    click.echo(f"\nFinding it: {said.find_fee}. Back as it is: {said.returned}. Holds until {said.valid_until}.")
    if said.worth:
        click.echo(f"Worth {said.worth}.")
    _warn((said.warning,) if said.warning else ())


@job.command("phone-card")
@click.argument("number")
@click.option("--earliest", default="", help="The earliest day, as 2026-04-18.")
@click.pass_context
def phone_card(ctx: click.Context, number: str, earliest: str) -> None:
    """Show one look for the telephone: what to say, and what to ask."""
    from firstpull.bench.estimating import phone_card as card

    said = card(shop_of(ctx), number, earliest)
    click.echo(f"{said.low} to {said.high}, usually {said.usual} ({said.standing})")
    click.echo(f"Finding it: {said.find_fee}; stop after {said.stop_minutes} min\n\n{said.sentence}\n")
    for ask in said.asks:
        click.echo(f"Ask: {ask}")
    _warn((said.warning,) if said.warning else ())


@job.command()
@click.argument("number")
@click.argument("to", type=click.Choice(["find", "mend", "scrap"]))
@click.option("--who", required=True, help="Who said it.")
@click.option("--sum", "limit", default="", help="Up to what sum.")
@click.option("--how", "way", required=True, help="By telephone, at the counter, in writing.")
@click.option("--no", "refused", is_flag=True, help="They said no.")
@click.pass_context
def approve(ctx: click.Context, number: str, to: str, who: str, limit: str, way: str, refused: bool) -> None:
    """Keep who said yes (or no), to what, up to what sum, and how."""
    from firstpull.bench.approving import approve as keep

    shop = shop_of(ctx)
    found = keep(shop, number, to, who, limit, way, yes=not refused, **how(ctx, shop, number))
    _kept(found.done)
    click.echo(f"Kept: {who} said {'no' if refused else 'yes'} {'to ' + to if not refused else ''}".rstrip())
    _warn(found.warnings)


@job.command()
@click.argument("number")
@click.pass_context
def bill(ctx: click.Context, number: str) -> None:
    """Show what is owed for what was done."""
    from firstpull.bench.billing import show_bill

    found = show_bill(shop_of(ctx), number)
    for line in found.lines:
        click.echo(f"{line.amount or '':>12}  {line.name}{f' ({line.detail})' if line.detail else ''}")
    if found.tax is not None:
        click.echo(f"{found.tax:>12}  {found.tax_words}")
    click.echo(f"{found.total or '':>12}  all together\n{found.charged or '':>12}  may be charged")
    if found.above:
        click.echo(f"! {found.above} above the agreed sum is not charged without a new yes.")
    _warn(found.warnings)


@job.command()
@click.argument("number")
@click.argument("state", type=click.Choice(["wanted", "ordered", "arrived", "returned", "fitted", "brought"]))
@click.argument("part")
@click.option("--number", "part_number", default="", help="The part's own number.")
@click.option("--supplier", default="")
@click.option("--quantity", type=click.IntRange(1), default=1)
@click.option("--cost", default="", help="What the shop pays.")
@click.option("--price", default="", help="What the customer pays, before tax.")
@click.option("--deposit", default="")
@click.option("--promised", default="", help="The day it is promised, as 2026-04-18.")
@click.option("--condition", type=click.Choice(["", "new", "used", "rebuilt"]), default="")
@click.option("--proof", default="", help="Which reading made it needed.")
@click.option("--bad", is_flag=True, help="Dead from the box.")
@click.pass_context
def part(
    ctx: click.Context, /, number: str, state: str, part: str, part_number: str, bad: bool, **said: Any
) -> None:
    """Keep one step in the life of PART; "brought" is a part that the customer supplied."""
    from firstpull.bench.parting import PartSaid, part_step

    shop = shop_of(ctx)
    word = "supplied-by-customer" if state == "brought" else state
    whole = PartSaid(part, number=part_number, bad_from_the_box=bad, **said)
    found = part_step(shop, number, word, whole, **how(ctx, shop, number))
    _kept(found.done)
    click.echo(f"Kept: {part} {state}")
    _warn(found.warnings)


@job.command()
@click.argument("number")
@click.pass_context
def parts(ctx: click.Context, number: str) -> None:
    """Show the parts of a job, and what likely mends would need."""
    from firstpull.bench.parting import parts_list

    found = parts_list(shop_of(ctx), number)
    for row in found.rows:
        click.echo(f"{row.state:<10} {row.quantity} x {row.part} {row.number} {row.price or ''}".rstrip())
        _warn(row.warnings)
    for one in found.offered:
        click.echo(f"{'likely':<10} {one.part}: {one.low} to {one.high} ({one.repair}, {one.odds})")
    _warn(found.warnings)


@job.command("clock")
@click.argument("number")
@click.argument("state", type=click.Choice(["started", "paused"]))
@click.option("--waiting", is_flag=True, help="Soaking, cooling, dripping: no labour.")
@click.pass_context
def clock(ctx: click.Context, number: str, state: str, waiting: bool) -> None:
    """Start or pause the clock."""
    from firstpull.bench.clocking import set_clock

    shop = shop_of(ctx)
    done = set_clock(shop, number, state, waiting=waiting, **how(ctx, shop, number))
    click.echo(f"{done.record.minutes:.0f} minutes hands-on so far")


@job.command()
@click.argument("number")
@click.pass_context
def history(ctx: click.Context, number: str) -> None:
    """Show earlier jobs of the same machine, and what a comeback opens with."""
    from firstpull.bench.history import comeback_of, earlier_jobs

    shop = shop_of(ctx)
    for one in earlier_jobs(shop, number):
        mended = ", ".join(one.repairs) or "nothing mended"
        click.echo(f"job {one.job}, {one.day}: {', '.join(one.complaint)}; {mended}")
    back = comeback_of(shop, number)
    if back is None:
        return
    free = "a first look is free" if back.first_look_free else "outside the shop's period"
    click.echo(f"\nComeback of job {back.of.job} after {back.days} days: {free}")
    for proof in back.proofs:
        click.echo(f"{proof.result:<10} {proof.name} ({proof.shown} of {proof.times})")
    for name in back.not_tested:
        click.echo(f"not tested {name}")


@job.command("round")
@click.argument("kind", type=click.Choice(["check", "repair"]))
@click.argument("step")
@click.argument("numbers", nargs=-1, required=True)
@click.option("--reading", default="", help="What the check gave on all of them.")
@click.option("--plan", "only_plan", is_flag=True, help="Show the order of work only.")
@click.pass_context
def round_(
    ctx: click.Context, kind: str, step: str, numbers: tuple[str, ...], reading: str, only_plan: bool
) -> None:
    """Do one step over several machines: plan it, or enter it on all of them at once."""
    from firstpull.bench.rounds import do_round, plan

    shop = shop_of(ctx)
    found = plan(shop, numbers, kind, step)
    for slot in found.slots:
        click.echo(f"{slot.start:5.0f} to {slot.end:3.0f} min  job {slot.job} {slot.act}")
    click.echo(f"{found.minutes:.0f} min for all, {found.saved:.0f} saved, hands free {found.free:.0f}")
    if only_plan:
        return
    seen = {number: shop.record(number).last_seq for number in numbers}
    raw = {"check": step, "reading": reading} if kind == "check" else {"repair": step}
    done = do_round(shop, seen, raw, act_id=act(), by=ctx.obj["by"])
    if done.waits:
        click.echo("Somebody else changed one of these jobs meanwhile. Look and enter it again.", err=True)
        raise SystemExit(3)
    click.echo(f"Kept on {len(done.stored)} jobs.")

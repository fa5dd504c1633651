"""The `firstpull` command. Sub-commands load what they need when they run, so that help is quick."""

from __future__ import annotations

import importlib
import os
import sys
from typing import Any

import click

from firstpull import __version__

TRACE_VARIABLE = "FIRSTPULL_TRACE"
# Name of a command, and where it lives; loaded when called.
COMMANDS = {
    "reason": "firstpull.cli.reason:reason",
    "handbook": "firstpull.cli.handbook:handbook",
    "solve": "firstpull.cli.solve:solve",
    "job": "firstpull.cli.money:job",  # the group of cli.job, with the commands of cli.money added
    "print": "firstpull.cli.print_sheet:print_sheet",
    "record": "firstpull.cli.record:record",
    "shop": "firstpull.cli.shop:shop",
    "serve": "firstpull.web.command:serve",
    "demo": "firstpull.web.command:demo",
}


class Lazy(click.Group):
    """A group whose commands are imported one by one."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """All commands, in the order of use."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of this name, imported now."""
        if cmd_name not in COMMANDS:
            return None
        module, name = COMMANDS[cmd_name].split(":")
        found: click.Command = getattr(importlib.import_module(module), name)
        return found


@click.group(cls=Lazy, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__)
def firstpull() -> None:
    """Find what is really wrong with a pull-start engine, prove it, and keep the record of the job."""


def main(arguments: list[str] | None = None) -> Any:
    """Run the command; every refusal is one clear message and exit code 2, never a traceback."""
    from firstpull.base.errors import FirstpullError
    from firstpull.cli import out

    out.forgive_letters()
    try:
        return firstpull.main(args=arguments, prog_name="firstpull", standalone_mode=True)
    except FirstpullError as error:
        out.say_error(str(error))
        sys.exit(2)
    except BrokenPipeError:
        out.let_go_of_output()
        sys.exit(0)
    except OSError as error:
        out.let_go_of_output()
        place = f"{error.filename}: " if error.filename else ""
        out.say_error(f"{place}{error.strerror or error} (a place with room, where this user may read and write)")
        sys.exit(2)
    except Exception as error:
        if os.environ.get(TRACE_VARIABLE):
            raise
        out.say_error(
            f"firstpull: a fault in the program itself: {type(error).__name__}: {error} "
            f"(nothing was half kept; {TRACE_VARIABLE}=1 shows where, for a report)"
        )
        sys.exit(out.FAULT_OF_OURS)


if __name__ == "__main__":
    main()

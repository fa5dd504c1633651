"""How the command writes: JSON that any script can read, and refusals without a traceback."""

from __future__ import annotations

import json
import math
import os
import sys
from typing import Any

import click

FAULT_OF_OURS = 70  # sysexits.h: an internal software error


def say_json(value: Any, indent: int | None = None) -> None:
    """Print one JSON document, in plain letters, so that no terminal's character set can spoil it."""
    click.echo(json.dumps(value, indent=indent, allow_nan=False))


def say_error(text: str) -> None:
    """Print one refusal where errors belong."""
    click.echo(text, err=True)


def forgive_letters() -> None:
    """Show letters that the terminal does not have as question marks; a file's odd name must not end the command."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


def let_go_of_output() -> None:
    """Send what is still held back nowhere: whoever read it is gone, or its disk is full."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, sys.stdout.fileno())
    except (OSError, ValueError):  # an output that is no file holds nothing back
        return
    finally:
        os.close(nowhere)


class Seconds(click.FloatRange):
    """A number of seconds that ends some day."""

    def __init__(self) -> None:
        super().__init__(min=0.0)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The number, unless it is none or has no end."""
        number = super().convert(value, param, ctx)
        if not math.isfinite(number):
            self.fail(f"{value} is not a number of seconds.", param, ctx)
        return number

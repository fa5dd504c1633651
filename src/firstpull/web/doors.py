"""The doors of the workshop: the bench screen on this machine, and the one for the network when it was opened."""

from __future__ import annotations

import contextlib
import socket
from collections.abc import Iterable, MutableMapping
from dataclasses import dataclass
from typing import Any

SCOPE_KEY = "firstpull.door"
LOCAL_HOSTS = ("127.0.0.1", "localhost", "[::1]")
# An address kept for documentation (RFC 5737); nothing is sent, the system only says by which way it would go.
_ELSEWHERE = ("192.0.2.254", 9)


@dataclass(frozen=True, slots=True)
class Door:
    """A listening place: the names by which it may be called, and whether it leads to the network."""

    hosts: tuple[str, ...]
    port: int = 0
    lan: bool = False
    https: bool = False
    fingerprint: str = ""

    @property
    def address(self) -> str:
        """The address to give to a phone."""
        return f"{'https' if self.https else 'http'}://{self.hosts[0]}:{self.port}"

    def knows(self, host: str) -> bool:
        """Whether a request's host is this machine, by one of its own names and nothing else."""
        name, port = _split(host.strip().lower())
        right_port = not self.port or port in ("", str(self.port))
        return right_port and name.removesuffix(".") in self.hosts


def _split(host: str) -> tuple[str, str]:
    """The name and the port of a host header."""
    if host.startswith("["):
        name, _, rest = host.partition("]")
        return f"{name}]", rest.removeprefix(":")
    name, _, port = host.partition(":")
    return name, port


def bench_door(port: int = 0) -> Door:
    """The door of the bench screen."""
    return Door(LOCAL_HOSTS, port)


def own_names(asked: Iterable[str] = ()) -> tuple[str, ...]:
    """The addresses and names of this machine on its network: those asked for first, then those it finds."""
    found = [name.strip().lower() for name in asked]
    # Without a network there is only what was asked for.
    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way:
        way.connect(_ELSEWHERE)
        found.append(str(way.getsockname()[0]))
    name = socket.gethostname().lower()
    with contextlib.suppress(OSError):  # a machine need not know its own name
        found += socket.gethostbyname_ex(name)[2]
    found = [one for one in found if one in asked or not one.startswith("127.")]
    short = name.partition(".")[0]
    names = [name, short, f"{short}.local"] if short not in ("", "localhost") else []
    return tuple(dict.fromkeys(one for one in [*found, *names] if one and one != "0.0.0.0"))  # noqa: S104  # a comparison


class Through:
    """The application as it is met through one door."""

    def __init__(self, app: Any, door: Door) -> None:
        self._app, self._door = app, door

    async def __call__(self, scope: MutableMapping[str, Any], receive: Any, send: Any) -> None:
        """Pass on, and say by which door it came."""
        await self._app({**scope, SCOPE_KEY: self._door}, receive, send)

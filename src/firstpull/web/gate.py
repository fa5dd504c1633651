"""Everything that decides who comes in, for one workshop."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from firstpull.web.devices import Devices
from firstpull.web.doors import Door, bench_door
from firstpull.web.pairing import Codes
from firstpull.web.rates import Rates
from firstpull.web.roles import Role
from firstpull.web.seal import Seal
from firstpull.web.viewer import Viewer

COOKIE = "device"
COOKIE_SECONDS = 180 * 24 * 3600


@dataclass(eq=False)
class Gate:
    """The seal, the devices, the code that is good now, the pace of everybody, and the doors."""

    seal: Seal = field(default_factory=Seal)
    devices: Devices = field(default_factory=Devices)
    codes: Codes = field(default_factory=Codes)
    rates: Rates = field(default_factory=Rates)
    bench: Door = field(default_factory=bench_door)
    lan: Door | None = None
    bench_role: Role = Role.OWNER

    def viewer(self, door: Door, cookie: str) -> Viewer:
        """Who asks, by the door it came through and the cookie it brought."""
        if not door.lan:
            return Viewer(self.bench_role, here=True)
        opened = self.seal.opened(cookie)
        device = self.devices.recognise(*opened) if opened else None
        if device is None:
            return Viewer(None, https=door.https)
        return Viewer(device.role, device.id, device.name, https=door.https)


def open_gate(folder: Path, bench: Door, lan: Door | None = None, bench_role: Role = Role.OWNER) -> Gate:
    """The gate of the workshop in a data folder."""
    return Gate(
        Seal(folder / "seal.key"), Devices(folder / "devices.jsonl"), bench=bench, lan=lan, bench_role=bench_role
    )

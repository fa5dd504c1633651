"""The devices that may come in over the network: a list that only grows, one line an act, in the data folder.

A device's token is kept as its SHA-256; the token itself is only in the device's cookie.
"""

from __future__ import annotations

import hashlib
import hmac
import json
import os
import secrets
from dataclasses import dataclass
from pathlib import Path
from threading import RLock
from typing import Any

from firstpull.base.clock import Clock, now, stamp
from firstpull.base.errors import InputError
from firstpull.web.roles import Role

LONGEST_NAME = 40
MOST_DEVICES = 100


@dataclass(frozen=True, slots=True)
class Device:
    """A device as it was paired; `revoked` says when it was turned away, empty while it may come in."""

    id: str
    name: str
    role: Role
    token_hash: str
    paired: str
    revoked: str = ""
    by: str = ""


class Devices:
    """The list, read again whenever the file has changed; without a path it lives as long as the program."""

    def __init__(self, path: Path | None = None, clock: Clock = now) -> None:
        self._path, self._clock = path, clock
        self._lock = RLock()
        self._known: dict[str, Device] = {}
        self._size = -1
        self.damaged = False

    def all(self) -> tuple[Device, ...]:
        """Every device that was ever paired, in that order."""
        with self._lock:
            self._look()
            return tuple(self._known.values())

    def live(self, device: str) -> Device | None:
        """A device that may come in."""
        with self._lock:
            self._look()
            found = self._known.get(device)
            return found if found is not None and not found.revoked and not self.damaged else None

    def recognise(self, device: str, token: str) -> Device | None:
        """The device that this token belongs to, if it may come in."""
        found = self.live(device)
        return found if found is not None and hmac.compare_digest(found.token_hash, _hash(token)) else None

    def pair(self, name: str, role: Role, by: str) -> tuple[Device, str]:
        """Let a device in under a name; returns it and the token for its cookie.

        Raises:
            InputError: the name cannot be used, or there are too many devices.
        """
        plain = " ".join(name.split())
        if not 0 < len(plain) <= LONGEST_NAME or not plain.isprintable():
            raise InputError("no name that can be used", "name", f"1 to {LONGEST_NAME} letters, such as Tam's phone")
        with self._lock:
            there = [d for d in self.all() if not d.revoked]
            if any(d.name.casefold() == plain.casefold() for d in there):
                raise InputError(f"another device is called '{plain}'", "name", "a name of its own")
            if len(there) >= MOST_DEVICES:
                raise InputError(f"{MOST_DEVICES} devices are paired", "devices", "revoke one first")
            token = secrets.token_urlsafe(32)
            device = secrets.token_hex(8)
            self._write({"act": "paired", "device": device, "name": plain, "role": str(role), "by": by,
                         "token_hash": _hash(token), "at": stamp(self._clock())})
            return self._known[device], token

    def revoke(self, device: str, by: str) -> Device:
        """Turn a device away from now on.

        Raises:
            InputError: there is no such device.
        """
        with self._lock:
            self._look()
            if device not in self._known:
                raise InputError("no such device", "device", "one of the list")
            if not self._known[device].revoked:
                self._write({"act": "revoked", "device": device, "by": by, "at": stamp(self._clock())})
            return self._known[device]

    def _write(self, line: dict[str, Any]) -> None:
        """Keep one line, on the disk before anything follows from it."""
        if self._path is None:
            self._take(line)
            return
        with os.fdopen(os.open(self._path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o600), "rb+") as file:
            size = file.seek(0, os.SEEK_END)
            file.seek(max(0, size - 1))
            torn = size > 0 and file.read(1) != b"\n"
            file.write((b"\n" if torn else b"") + json.dumps(line, ensure_ascii=False).encode() + b"\n")
            file.flush()
            os.fsync(file.fileno())
        self._look()

    def _look(self) -> None:
        """Read the file again if it has changed. A line that cannot be read turns every device away.

        A last line without its end was never acknowledged and counts for nothing.
        """
        if self._path is None:
            return
        size = self._path.stat().st_size if self._path.exists() else 0
        if size == self._size:
            return
        self._size, self._known, self.damaged = size, {}, False
        lines = self._path.read_bytes().split(b"\n") if size else [b""]
        for line in filter(None, lines[:-1]):
            try:
                self._take(json.loads(line))
            except (ValueError, KeyError, TypeError):
                self.damaged = True

    def _take(self, line: dict[str, Any]) -> None:
        device = str(line["device"])
        if line["act"] == "paired":
            self._known[device] = Device(device, str(line["name"]), Role(line["role"]), str(line["token_hash"]),
                                         str(line["at"]), by=str(line["by"]))
        elif line["act"] == "revoked":
            old = self._known[device]
            self._known[device] = Device(old.id, old.name, old.role, old.token_hash, old.paired, str(line["at"]),
                                         str(line["by"]))
        else:
            raise ValueError(line["act"])


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()

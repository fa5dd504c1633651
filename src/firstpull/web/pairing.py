"""The code that lets one device in, once and for a few minutes: shown at the bench, typed or scanned on the device."""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from threading import Lock

import segno

from firstpull.base.clock import Clock, now
from firstpull.web.roles import Role

# Without letters and figures that look alike; eight of thirty signs are about 39 bits.
SIGNS = "ABCDEFGHJKMNPQRSTVWXYZ23456789"
LENGTH = 8
LASTS = timedelta(minutes=5)
MOST_WRONG = 10  # judgement: a thumb slips a few times; at ten the code is given up


@dataclass(frozen=True, slots=True)
class Code:
    """A code, what role it gives, who gave it, and until when it is good."""

    text: str
    role: Role
    by: str
    until: datetime

    @property
    def spaced(self) -> str:
        """The code as it is read aloud."""
        return f"{self.text[:4]} {self.text[4:]}"


class Codes:
    """The one code that is good at a time."""

    def __init__(self, clock: Clock = now) -> None:
        self._clock, self._lock = clock, Lock()
        self._code: Code | None = None
        self._wrong = 0

    def make(self, role: Role, by: str) -> Code:
        """A fresh code; the one before is no longer good."""
        text = "".join(secrets.choice(SIGNS) for _ in range(LENGTH))
        with self._lock:
            self._code, self._wrong = Code(text, role, by, self._clock() + LASTS), 0
            return self._code

    def good(self) -> Code | None:
        """The code that is good now."""
        with self._lock:
            return self._good()

    def use(self, typed: str) -> Code | None:
        """Take the code if this is it; whichever way it was used, it is good only once."""
        plain = "".join(c for c in typed.upper() if c.isalnum())
        with self._lock:
            code = self._good()
            if code is None:
                return None
            if not hmac.compare_digest(plain.encode(), code.text.encode()):
                self._wrong += 1
                if self._wrong >= MOST_WRONG:
                    self._code = None
                return None
            self._code = None
            return code

    def give_back(self, code: Code) -> None:
        """A code that was used for nothing, as when the name could not be used, is good again until its time."""
        with self._lock:
            if self._code is None:
                self._code = code

    def _good(self) -> Code | None:
        if self._code is not None and self._clock() >= self._code.until:
            self._code = None
        return self._code


def picture(address: str) -> str:
    """The address as a QR drawing that can stand in a page."""
    return str(segno.make(address, error="m").svg_inline(scale=6, border=4, light="#FFFFFF", dark="#000000"))

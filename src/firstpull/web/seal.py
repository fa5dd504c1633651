"""The secret of this workshop, and what is sealed with it: cookies of devices and tokens of forms."""

from __future__ import annotations

import hashlib
import hmac
import os
import re
import secrets
from pathlib import Path

from itsdangerous import BadSignature, URLSafeSerializer

from firstpull.base.errors import StorageError

SECRET_BYTES = 32
_TOKEN = re.compile(rb'csrf(?:=|"\r\n\r\n)([0-9a-f]{64})')


class Seal:
    """Signs and checks; without a file the secret lives as long as the program."""

    def __init__(self, path: Path | None = None) -> None:
        self._secret = secrets.token_hex(SECRET_BYTES) if path is None else _kept(path)
        self._cookies = URLSafeSerializer(self._secret, salt="device cookie")

    def cookie(self, device: str, token: str) -> str:
        """The cookie of a device."""
        return str(self._cookies.dumps([device, token]))

    def opened(self, cookie: str) -> tuple[str, str] | None:
        """The device and its token; None when the cookie was not made here."""
        try:
            found = self._cookies.loads(cookie)
        except BadSignature:
            return None
        good = isinstance(found, list) and len(found) == 2 and all(isinstance(one, str) for one in found)
        return (found[0], found[1]) if good else None

    def form_token(self, seat: str) -> str:
        """The token that forms shown at one seat carry: the bench screen, one device, or strangers."""
        return hmac.new(self._secret.encode(), f"form {seat}".encode(), hashlib.sha256).hexdigest()

    def brings_token(self, seat: str, header: str, body: bytes) -> bool:
        """Whether a request brings the token of its seat, as a header or as a field of its form."""
        brought = [header.encode("ascii", "replace"), *_TOKEN.findall(body)]
        expected = self.form_token(seat).encode()
        return any(hmac.compare_digest(one, expected) for one in brought)


def _kept(path: Path) -> str:
    """The secret in a file that nobody else may read, made when it is missing.

    Raises:
        StorageError: the file holds no secret.
    """
    try:
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="ascii") as file:
            file.write(secrets.token_hex(SECRET_BYTES))
            file.flush()
            os.fsync(file.fileno())
    except FileExistsError:
        pass
    text = path.read_text(encoding="ascii", errors="replace").strip()
    if not re.fullmatch(rf"[0-9a-f]{{{2 * SECRET_BYTES}}}", text):
        raise StorageError("the secret of this workshop cannot be read", str(path), "delete it and pair devices again")
    return text

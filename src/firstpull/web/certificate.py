"""A certificate of our own for the network door, kept in the data folder until it runs out or no longer fits."""

from __future__ import annotations

import hashlib
import ipaddress
import os
import ssl
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from firstpull.base.clock import Clock, now
from firstpull.base.errors import FirstpullError
from firstpull.web.listening import Papers

if TYPE_CHECKING:
    from cryptography import x509

# Phones refuse certificates of servers that are good for longer than 825 days (from memory).
LASTS = timedelta(days=397)
RENEW_BEFORE = timedelta(days=14)
NAME = "firstpull at this bench"


def papers(folder: Path, names: Sequence[str], clock: Clock = now) -> tuple[Papers, str]:
    """The certificate for these names and its fingerprint, made anew when there is none that fits.

    Raises:
        FirstpullError: the library that makes certificates is not installed.
    """
    kept = Papers(folder / "lan-certificate.pem", folder / "lan-key.pem")
    if not _fits(kept, names, clock()):
        _make(kept, names, clock())
    return kept, fingerprint(kept.certificate)


def fingerprint(certificate: Path) -> str:
    """The SHA-256 of a certificate, as phones show it."""
    der = ssl.PEM_cert_to_DER_cert(certificate.read_text(encoding="ascii"))
    return ":".join(f"{byte:02X}" for byte in hashlib.sha256(der).digest())


def _library() -> None:
    try:
        import cryptography  # noqa: F401
    except ImportError as error:
        what = "certificates cannot be made: the library for it is not installed"
        raise FirstpullError(what, "--https", "install firstpull[lan], or leave --https out") from error


def _fits(kept: Papers, names: Sequence[str], moment: datetime) -> bool:
    """Whether what is kept is whole, in time, and names all that this machine is called."""
    _library()
    from cryptography import x509

    if not (kept.certificate.exists() and kept.key.exists()):
        return False
    try:
        found = x509.load_pem_x509_certificate(kept.certificate.read_bytes())
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(kept.certificate, kept.key)
    except (ValueError, ssl.SSLError):
        return False
    said = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return found.not_valid_after_utc - RENEW_BEFORE > moment and set(_alternatives(names)) <= set(said)


def _alternatives(names: Sequence[str]) -> list[x509.GeneralName]:
    from cryptography import x509

    found: list[x509.GeneralName] = []
    for name in names:
        try:
            found.append(x509.IPAddress(ipaddress.ip_address(name.strip("[]"))))
        except ValueError:
            found.append(x509.DNSName(name))
    return found


def _make(kept: Papers, names: Sequence[str], moment: datetime) -> None:
    """A key and a certificate signed with it; the key is readable by this user only."""
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import ExtendedKeyUsageOID

    key = ec.generate_private_key(ec.SECP256R1())
    called = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, NAME)])
    made = (
        x509.CertificateBuilder()
        .subject_name(called)
        .issuer_name(called)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(moment - timedelta(hours=1))
        .not_valid_after(moment + LASTS)
        .add_extension(x509.SubjectAlternativeName(_alternatives(names)), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    private = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    _write(kept.key, private, 0o600)
    _write(kept.certificate, made.public_bytes(serialization.Encoding.PEM), 0o644)


def _write(path: Path, data: bytes, mode: int) -> None:
    """Write a file whole under another name first, so that it is never half there."""
    fresh = path.with_suffix(".new")
    fresh.unlink(missing_ok=True)
    with os.fdopen(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    fresh.replace(path)

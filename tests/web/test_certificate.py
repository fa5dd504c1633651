"""The certificate of our own: kept while it fits, made anew when it does not."""

from __future__ import annotations

import ssl
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509

from firstpull.web.certificate import LASTS, fingerprint, papers

NAMES = ("192.168.7.5", "bench.local")
NOON = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)


def test_a_certificate_is_kept_and_its_key_is_nobody_elses(tmp_path: Path) -> None:
    kept, mark = papers(tmp_path, NAMES)
    assert papers(tmp_path, NAMES) == (kept, mark)
    assert stat.S_IMODE(kept.key.stat().st_mode) == 0o600
    ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(kept.certificate, kept.key)


def test_it_names_the_machine_and_nothing_more_and_signs_for_nobody_else(tmp_path: Path) -> None:
    kept, _ = papers(tmp_path, NAMES)
    found = x509.load_pem_x509_certificate(kept.certificate.read_bytes())
    said = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert [str(one.value) for one in said] == list(NAMES)
    assert found.extensions.get_extension_for_class(x509.BasicConstraints).value.ca is False
    assert found.not_valid_after_utc - found.not_valid_before_utc < timedelta(days=825)


@pytest.mark.parametrize("days", [LASTS.days - 13, LASTS.days + 5])
def test_it_is_made_anew_before_it_runs_out(tmp_path: Path, days: int) -> None:
    _, first = papers(tmp_path, NAMES, lambda: NOON)
    _, second = papers(tmp_path, NAMES, lambda: NOON + timedelta(days=days))
    assert first != second


def test_it_is_made_anew_for_a_new_name_and_when_it_is_damaged(tmp_path: Path) -> None:
    kept, first = papers(tmp_path, NAMES)
    _, second = papers(tmp_path, (*NAMES, "10.0.0.3"))
    kept.key.write_text("no key", encoding="ascii")
    _, third = papers(tmp_path, NAMES)
    assert len({first, second, third}) == 3


def test_the_fingerprint_is_the_certificates_own(tmp_path: Path) -> None:
    kept, mark = papers(tmp_path, NAMES)
    found = x509.load_pem_x509_certificate(kept.certificate.read_bytes())
    from cryptography.hazmat.primitives import hashes

    assert mark == fingerprint(kept.certificate) == ":".join(f"{b:02X}" for b in found.fingerprint(hashes.SHA256()))

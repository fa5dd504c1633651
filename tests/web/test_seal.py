"""What is sealed here is opened here and nowhere else."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as some

from firstpull.base.errors import StorageError
from firstpull.web.seal import Seal


def test_a_cookie_is_opened_after_a_restart_and_by_no_other_workshop(tmp_path: Path) -> None:
    path = tmp_path / "seal.key"
    cookie = Seal(path).cookie("d1", "token")
    assert Seal(path).opened(cookie) == ("d1", "token")
    assert Seal().opened(cookie) is None
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


@given(some.text(max_size=80))
def test_no_made_up_cookie_is_opened(text: str) -> None:
    assert Seal().opened(text) is None


@given(some.integers(0, 200), some.sampled_from("0aZ_-."))
def test_a_cookie_with_one_sign_changed_is_refused(place: int, sign: str) -> None:
    seal = Seal()
    cookie = seal.cookie("d1", "token")
    changed = cookie[: place % len(cookie)] + sign + cookie[place % len(cookie) + 1 :]
    assert seal.opened(changed) == (("d1", "token") if changed == cookie else None)


def test_a_token_is_found_in_a_form_of_either_kind_and_in_a_header() -> None:
    seal = Seal()
    token = seal.form_token("here")
    plain = f"text=x&csrf={token}&act=1".encode()
    pieces = f'--b\r\nContent-Disposition: form-data; name="csrf"\r\n\r\n{token}\r\n--b--'.encode()
    assert seal.brings_token("here", "", plain)
    assert seal.brings_token("here", "", pieces)
    assert seal.brings_token("here", token, b"")


def test_the_token_of_another_seat_or_workshop_is_worth_nothing() -> None:
    seal = Seal()
    for token in (seal.form_token("stranger"), seal.form_token("device d2"), Seal().form_token("here"), ""):
        assert not seal.brings_token("here", token, f"csrf={token}".encode())


def test_a_secret_that_cannot_be_read_is_said(tmp_path: Path) -> None:
    path = tmp_path / "seal.key"
    path.write_text("short", encoding="ascii")
    with pytest.raises(StorageError, match="secret"):
        Seal(path)

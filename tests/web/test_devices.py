"""The list of devices: it survives, it forgets nothing, and when in doubt it lets nobody in."""

from __future__ import annotations

import json
import stat
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

from firstpull.base.errors import InputError
from firstpull.web.devices import MOST_DEVICES, Devices
from firstpull.web.roles import Role


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "devices.jsonl"


def test_a_device_is_known_after_a_restart_and_its_token_is_not_in_the_file(path: Path) -> None:
    device, token = Devices(path).pair("Tam's phone", Role.COUNTER, "Wren")
    again = Devices(path).recognise(device.id, token)
    assert again is not None
    assert (again.name, again.role, again.by) == ("Tam's phone", Role.COUNTER, "Wren")
    assert token not in path.read_text(encoding="utf-8")
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_device_that_was_turned_away_stays_away_and_both_acts_stay_in_the_list(path: Path) -> None:
    first = Devices(path)
    device, token = first.pair("Tam's phone", Role.BENCH, "Wren")
    first.revoke(device.id, "Wren (owner)")
    for devices in (first, Devices(path)):
        assert devices.recognise(device.id, token) is None
        (shown,) = devices.all()
        assert shown.revoked
        assert shown.by == "Wren (owner)"
    assert [json.loads(line)["act"] for line in path.read_text(encoding="utf-8").splitlines()] == ["paired", "revoked"]


def test_a_second_program_on_the_same_folder_sees_at_once_who_was_turned_away(path: Path) -> None:
    one, other = Devices(path), Devices(path)
    device, token = one.pair("Tam's phone", Role.BENCH, "Wren")
    assert other.recognise(device.id, token) is not None
    one.revoke(device.id, "Wren")
    assert other.recognise(device.id, token) is None


def test_another_token_is_not_let_in(path: Path) -> None:
    devices = Devices(path)
    device, token = devices.pair("Tam's phone", Role.BENCH, "Wren")
    assert devices.recognise(device.id, token[:-1]) is None
    assert devices.recognise("nobody", token) is None


def test_a_damaged_line_turns_everybody_away_and_a_torn_last_one_nobody(path: Path) -> None:
    device, token = Devices(path).pair("Tam's phone", Role.BENCH, "Wren")
    whole = path.read_bytes()
    path.write_bytes(whole + b'{"act": "revoked", "dev')
    assert Devices(path).recognise(device.id, token) is not None
    path.write_bytes(b'{"act": "paired"}\n' + whole)
    damaged = Devices(path)
    assert damaged.recognise(device.id, token) is None
    assert damaged.damaged


def test_after_a_torn_line_the_next_one_stands_on_its_own(path: Path) -> None:
    devices = Devices(path)
    device, token = devices.pair("Tam's phone", Role.BENCH, "Wren")
    path.write_bytes(path.read_bytes() + b'{"act": "rev')
    Devices(path).revoke(device.id, "Wren")
    assert Devices(path).recognise(device.id, token) is None


@pytest.mark.parametrize("name", ["", "   ", "x" * 41, "a\x00b", "TAM'S PHONE"])
def test_a_name_must_be_usable_and_its_own(path: Path, name: str) -> None:
    devices = Devices(path)
    devices.pair("Tam's phone", Role.BENCH, "Wren")
    with pytest.raises(InputError):
        devices.pair(name, Role.BENCH, "Wren")
    assert len(devices.all()) == 1


def test_there_is_an_end_to_devices() -> None:
    devices = Devices()
    for number in range(MOST_DEVICES):
        devices.pair(f"phone {number}", Role.BENCH, "Wren")
    with pytest.raises(InputError, match="revoke one first"):
        devices.pair("one more", Role.BENCH, "Wren")


@given(some.lists(some.tuples(some.booleans(), some.integers(0, 4)), max_size=12))
@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_the_file_says_the_same_as_the_program_that_wrote_it(tmp_path: Path, acts: list[tuple[bool, int]]) -> None:
    path = tmp_path / "some.jsonl"
    path.unlink(missing_ok=True)
    devices = Devices(path)
    for number, (pair, which) in enumerate(acts):
        if pair:
            devices.pair(f"phone {number}", Role.BENCH, "Wren")
        elif devices.all():
            devices.revoke(devices.all()[which % len(devices.all())].id, "Wren")
    assert Devices(path).all() == devices.all()

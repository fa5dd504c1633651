"""By which names a door is met."""

from __future__ import annotations

import pytest

from firstpull.web.doors import Door, bench_door, own_names

LAN = Door(("192.168.7.5", "bench", "bench.local"), 8766, lan=True)


@pytest.mark.parametrize("host", ["192.168.7.5:8766", "bench:8766", "BENCH.local:8766", "bench.local.:8766", "bench"])
def test_its_own_names_are_known(host: str) -> None:
    assert LAN.knows(host)


@pytest.mark.parametrize(
    "host",
    ["", "elsewhere.test", "bench.elsewhere.test", "192.168.7.5.elsewhere.test:8766", "127.0.0.1:8766", "localhost",
     "192.168.7.5:8765", "bench:8766:8766", "[::1]:8766", "bench@elsewhere.test", "192.168.7.50"],
)  # fmt: skip
def test_no_other_name_is(host: str) -> None:
    assert not LAN.knows(host)


def test_the_bench_screen_is_met_at_this_machine_only() -> None:
    door = bench_door(8765)
    assert all(door.knows(h) for h in ("127.0.0.1:8765", "localhost:8765", "[::1]:8765"))
    assert not door.knows("192.168.7.5:8765")
    assert door.address == "http://127.0.0.1:8765"


def test_what_was_asked_for_stands_first_and_nothing_that_means_everything_or_only_here_is_found() -> None:
    names = own_names(["Shop.Example"])
    assert names[0] == "shop.example"
    assert not {"0.0.0.0", "127.0.0.1", "localhost"} & set(names)

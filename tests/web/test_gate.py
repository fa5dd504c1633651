"""Who comes in over the network: nobody unpaired, nobody turned away, and each with its role."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator
from pathlib import Path

import pytest
from starlette.responses import StreamingResponse

from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop
from firstpull.web.gate import COOKIE, Gate, open_gate
from firstpull.web.rates import DEVICE_PACE, PAIRING_PACE, STRANGER_PACE
from firstpull.web.roles import TABLE, Role, may
from tests.web.lan import Network


@pytest.fixture
def plain(shop: Shop) -> str:
    """A job whose kind of machine nobody said yet, so that nothing is reckoned."""
    return take_in(shop, Counter("Ada Fenwright", "0555 0101", "won't start", "90", ""), act_id="in-1", by="Wren")


def filled(line: str, job: str) -> tuple[str, str]:
    """A line of the table as a request."""
    method, _, path = line.partition(" ")
    path = path.replace("{job}", job).replace("{check}", "spark-at-tester").replace("{key}", "k")
    path = path.replace("{file}", "x.html").replace("{name}", "spark-at-tester")
    path = path.replace("{kind}", "faults" if path.startswith("/api") else "tag")
    return method, f"{path}/sheet.css" if path in ("/static", "/vendor") else path


@pytest.mark.parametrize("line", sorted(line for line, entry in TABLE.items() if not entry.unpaired))
def test_whoever_is_not_paired_is_let_to_nothing(shop: Shop, plain: str, line: str) -> None:
    method, path = filled(line, plain)
    before = shop.record(plain).last_seq
    answer = Network(shop).stranger().request(method, path, data={"act": "x"} if method == "POST" else None)
    if method == "GET" and not path.startswith("/api/"):
        assert (answer.status_code, answer.headers["location"]) == (303, "/pair")
    else:
        assert answer.status_code == 401
        assert "not paired" in answer.text
    assert shop.record(plain).last_seq == before


@pytest.mark.parametrize("role", list(Role))
def test_every_address_is_refused_to_the_roles_that_the_table_refuses(shop: Shop, plain: str, role: Role) -> None:
    client = Network(shop).device(role)
    for line, entry in TABLE.items():
        if any(may(role, act) for act in entry.acts) and not entry.here:
            continue
        method, path = filled(line, plain)
        answer = client.request(method, path, data={"act": "x"} if method == "POST" else None)
        assert answer.status_code == 403, line
        assert "screen" in answer.text
    assert shop.record(plain).last_seq == 1


def test_a_phone_pairs_with_the_code_of_the_bench_screen_and_only_once(shop: Shop) -> None:
    net = Network(shop)
    bench, phone = net.bench(), net.stranger()
    assert bench.post("/devices/code", data={"role": "counter"}).status_code == 303
    shown = bench.get("/devices").text
    code = net.gate.codes.good()
    assert code is not None
    assert code.spaced in shown
    assert "<svg" in shown
    assert "Others on the network can read along" in shown
    answer = phone.post("/pair", data={"code": code.spaced.lower(), "name": "Tam's phone"})
    assert answer.status_code == 303
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "samesite=strict" in cookie.lower()
    assert "secure" not in cookie.lower()
    assert phone.get("/").status_code == 200
    (device,) = net.gate.devices.all()
    assert (device.name, device.role, device.by) == ("Tam's phone", Role.COUNTER, "bench")
    assert net.stranger().post("/pair", data={"code": code.text, "name": "another"}).status_code == 422


def test_over_https_the_cookie_is_secure_and_the_fingerprint_stands_beside_the_code(shop: Shop) -> None:
    net = Network(shop, https=True)
    bench = net.bench()
    bench.post("/devices/code", data={"role": "owner"})
    code = net.gate.codes.good()
    assert code is not None
    assert "AB:CD" in bench.get("/devices").text
    cookie = net.stranger().post("/pair", data={"code": code.text, "name": "mine"}).headers["set-cookie"]
    assert "Secure" in cookie


def test_a_code_is_made_at_the_bench_screen_only(shop: Shop) -> None:
    net = Network(shop)
    answer = net.device(Role.OWNER).post("/devices/code", data={"role": "owner"})
    assert answer.status_code == 403
    assert net.gate.codes.good() is None


def test_a_device_that_is_turned_away_is_out_at_once_and_after_a_restart(shop: Shop) -> None:
    net = Network(shop)
    phone = net.device(Role.BENCH)
    assert phone.get("/settings").status_code == 200
    said = {"device": phone.headers["x-test-device"]}
    assert net.bench().post("/devices/revoke", data=said).status_code == 303
    assert phone.get("/settings").headers["location"] == "/pair"
    assert phone.get("/api/handbook/faults").status_code == 401
    assert "turned away by bench" in net.bench().get("/devices").text


def test_a_cookie_of_another_workshop_or_made_up_is_worth_nothing(shop: Shop) -> None:
    net = Network(shop)
    stranger = net.stranger()
    for cookie in (Gate().seal.cookie("d", "t"), net.gate.seal.cookie("d", "t"), "x"):
        stranger.cookies.set(COOKIE, cookie)
        assert stranger.get("/").status_code == 303


def test_the_bench_door_needs_no_cookie_and_the_network_door_is_never_the_bench(shop: Shop) -> None:
    net = Network(shop)
    assert net.bench().get("/devices").status_code == 200
    assert net.stranger("127.0.0.1").get("/devices").status_code == 303


def test_devices_lie_in_the_data_folder(shop: Shop, tmp_path: Path) -> None:
    folder = tmp_path
    net = Network(shop)
    gate = open_gate(folder, net.gate.bench, net.gate.lan)
    device, token = gate.devices.pair("Tam's phone", Role.BENCH, "Wren")
    cookie = gate.seal.cookie(device.id, token)
    again = open_gate(folder, net.gate.bench, net.gate.lan)
    assert net.gate.lan is not None
    assert again.viewer(net.gate.lan, cookie).role is Role.BENCH
    assert net.gate.viewer(net.gate.lan, cookie).role is None


def test_too_much_at_once_is_refused_in_one_sentence_with_a_time_to_wait(shop: Shop) -> None:
    net = Network(shop)
    stranger, phone = net.stranger(), net.device(Role.BENCH)
    answers = [stranger.get("/pair") for _ in range(int(STRANGER_PACE.at_once) + 3)]
    assert answers[0].status_code == 200
    assert answers[-1].status_code == 429
    assert int(answers[-1].headers["retry-after"]) >= 1
    assert answers[-1].text.count(".") == 1
    assert phone.get("/pair").status_code == 200
    assert net.bench().get("/pair").status_code == 200
    told = [phone.get("/static/tokens.css").status_code for _ in range(int(DEVICE_PACE.at_once * 3))]
    assert 429 in told


def test_guessing_codes_is_slowed_down(shop: Shop) -> None:
    net = Network(shop)
    stranger = net.stranger()
    said = {"code": "AAAA AAAA", "name": "x"}
    told = [stranger.post("/pair", data=said) for _ in range(int(PAIRING_PACE.at_once) + 1)]
    assert [t.status_code for t in told] == [422] * int(PAIRING_PACE.at_once) + [429]
    assert int(told[-1].headers["retry-after"]) > 1


def test_the_form_of_one_screen_is_worth_nothing_at_another(shop: Shop, plain: str) -> None:
    net = Network(shop)
    phone, other = net.device(Role.BENCH, "one"), net.device(Role.BENCH, "other")
    seen = re.search(r'name="csrf" value="(\w+)"', phone.get("/settings").text)
    assert seen is not None
    said = {"act": "n", "text": "x", "csrf": seen.group(1)}
    del phone.headers["x-csrf"], other.headers["x-csrf"]
    assert other.post(f"/job/{plain}/note", data=said).status_code == 403
    bench = net.bench()
    del bench.headers["x-csrf"]
    assert bench.post(f"/job/{plain}/note", data=said).status_code == 403
    assert shop.record(plain).last_seq == 1
    assert phone.post(f"/job/{plain}/note", data=said).status_code == 303


def test_the_record_names_the_device_and_its_role_whatever_name_the_hand_gave_itself(shop: Shop, plain: str) -> None:
    phone = Network(shop).device(Role.BENCH, "Tam's phone")
    phone.post(f"/job/{plain}/note", data={"act": "n1", "text": "looked"})
    phone.cookies.set("who", "Ada (shop owner)")
    phone.post(f"/job/{plain}/note", data={"act": "n2", "text": "looked again"})
    assert [e.by for e in shop.record(plain).notes] == ["Tam's phone, bench", "Ada shop owner (Tam's phone, bench)"]


def test_a_stream_to_a_device_that_is_turned_away_ends(shop: Shop) -> None:
    net = Network(shop)
    phone = net.device(Role.BENCH)

    async def endless() -> AsyncIterator[bytes]:
        yield b"first "
        net.gate.devices.revoke(phone.headers["x-test-device"], "Wren")
        for _ in range(1000):
            yield b"secret "

    net.app.add_api_route("/job/{job}/history", lambda job: StreamingResponse(endless()), methods=["GET"])
    net.app.router.routes.insert(0, net.app.router.routes.pop())
    assert phone.get("/job/1/history").content == b"first "
    assert phone.get("/job/1/history").status_code == 303


def test_an_address_that_nobody_listed_is_open_to_no_device(shop: Shop) -> None:
    net = Network(shop)
    net.app.add_api_route("/job/{job}/secret", lambda job: "all of it", methods=["GET"])
    assert net.device(Role.OWNER).get("/job/1/secret").status_code == 404
    assert net.bench().get("/job/1/secret").status_code == 200

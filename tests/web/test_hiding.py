"""A page shows nothing that the guard would refuse, and every form brings its token."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from firstpull.bench.find import note
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop
from firstpull.web.hiding import allowed, fitted
from firstpull.web.roles import TABLE, Role
from firstpull.web.viewer import BENCH_SCREEN, Viewer
from tests.web.lan import Network

SECRETS = ("Fenwright", "Ada", "0555", "0101", "0199")
# Pages of a job whose class is known are slow to make the first time, so one job is looked at by all.
FILLED = {"{check}": "spark-at-tester", "{name}": "spark-at-tester", "{file}": "index.html", "{key}": "none"}


@pytest.fixture(scope="module")
def full(one_for_all: tuple[TestClient, Shop, str]) -> tuple[Shop, str]:
    """A workshop whose job says in many places whose it is."""
    _, shop, _ = one_for_all
    said = Counter("Ada Fenwright", "0555 0101", "no spark; call Ada on 0555 0199", "90", "walk-mower-ohv")
    job = take_in(shop, said, act_id="in-2", by="Wren")
    note(shop, job, "Ada Fenwright rang, 0555 0101", act_id="in-3", based_on=1, by="Wren")
    return shop, job


def pages(job: str) -> list[str]:
    """Every address that is read, on a job."""
    found = []
    for line in TABLE:
        method, _, path = line.partition(" ")
        if method == "GET" and path not in ("/static", "/vendor"):
            path = path.replace("{job}", job).replace("{kind}", "faults" if path.startswith("/api") else "tag")
            if "/repair/" in path:
                path = path.replace("{name}", "renew-plug")
            for name, value in FILLED.items():
                path = path.replace(name, value)
            found.append(path)
    return found


def told(text: str, secret: str) -> bool:
    """Whether a text says a secret as a word of its own; an adapter is no Ada."""
    return re.search(rf"(?<![\w.]){secret}(?!\w)", text) is not None


def echoed(path: str, secret: str) -> bool:
    """Whether the secret is only what the asker typed into the search itself."""
    return path == f"/?q={secret}"


def walked(client: TestClient, job: str) -> dict[str, str]:
    """What every page and answer says to a client; `client.get` follows nothing."""
    return {path: client.get(path).text for path in [*pages(job), "/?q=Fenwright", "/?q=0555", "/?q=spark"]}


@pytest.mark.parametrize("role", [Role.COUNTER, Role.BENCH, Role.LEARNER, Role.INSTRUCTOR])
def test_no_page_and_no_answer_tells_an_overheard_screen_whose_it_is(full: tuple[Shop, str], role: Role) -> None:
    shop, job = full
    said = walked(Network(shop).device(role), job)
    assert len(said) > 25
    leaks = [(path, s) for path, text in said.items() for s in SECRETS if told(text, s) and not echoed(path, s)]
    assert leaks == []
    assert "the owner" in said[f"/job/{job}"]
    assert all("can read along" in text for path, text in said.items() if path in ("/", f"/job/{job}", "/settings"))


def test_a_search_for_a_name_finds_nothing_where_names_are_veiled(full: tuple[Shop, str]) -> None:
    shop, job = full
    phone, bench = Network(shop).device(Role.COUNTER), Network(shop).bench()
    assert "0 found" in phone.get("/?q=Fenwright").text
    assert f"/job/{job}" in bench.get("/?q=Fenwright").text
    assert f"/job/{job}" in phone.get("/?q=spark").text


def test_the_bench_screen_and_the_shop_owners_phone_are_told(full: tuple[Shop, str]) -> None:
    shop, job = full
    for client in (Network(shop).bench(), Network(shop).device(Role.OWNER)):
        assert "Ada" in client.get(f"/job/{job}/owner").text
        assert client.get(f"/job/{job}/paper").status_code == 200
    assert "can read along" in Network(shop).device(Role.OWNER).get("/").text
    assert "can read along" not in Network(shop).bench().get("/").text


def test_over_https_the_counter_is_told_and_the_bench_phone_still_is_not(full: tuple[Shop, str]) -> None:
    shop, job = full
    net = Network(shop, https=True)
    assert "Ada" in net.device(Role.COUNTER).get(f"/job/{job}").text
    text = net.device(Role.BENCH).get(f"/job/{job}").text
    assert "Ada" not in text
    assert "can read along" not in text


@pytest.mark.parametrize("role", list(Role))
def test_no_page_shows_a_form_or_a_link_that_would_be_refused(full: tuple[Shop, str], role: Role) -> None:
    shop, job = full
    net = Network(shop)
    client = net.device(role)
    viewer = Viewer(role, "d", "phone")
    for path in ("/", f"/job/{job}", f"/job/{job}/release", f"/job/{job}/owner", "/settings", f"/job/{job}/parts"):
        text = client.get(path).text
        sent = re.findall(r'(?:formaction|<form method="post" action)="([^"]+)"', text)
        read = re.findall(r'<a\b[^>]*href="(/[^"]*)"', text)
        assert [a for a in sent if not allowed(viewer, "POST", a)] == []
        assert [a for a in read if not allowed(viewer, "GET", a)] == []


def test_each_role_sees_its_own_doors(full: tuple[Shop, str]) -> None:
    shop, job = full
    net = Network(shop)
    counter, bench = net.device(Role.COUNTER), net.device(Role.BENCH)
    assert "Take one in" in counter.get("/").text
    assert "Take one in" not in bench.get("/").text
    assert "Release as working" in bench.get(f"/job/{job}/release").text
    assert "Release as working" not in counter.get(f"/job/{job}/release").text
    assert "Rate per hour" not in bench.get("/settings").text
    assert "Rate per hour" in net.bench().get("/settings").text
    card = counter.get(f"/job/{job}/check/spark-at-tester").text
    assert "entered at the machine" in card
    assert 'name="reading"' not in card


def test_every_form_that_sends_carries_the_token_and_no_other_does() -> None:
    text = '<form method="post" action="/take-in"><b>x</b></form><form method="get" action="/"></form>'
    found = fitted(text, BENCH_SCREEN, "a" * 64)
    assert found.count('name="csrf"') == 1
    field = f'<input type="hidden" name="csrf" value="{"a" * 64}">'
    assert found.startswith(f'<form method="post" action="/take-in">{field}<b>')


def test_what_may_not_be_sent_or_followed_is_not_on_the_page() -> None:
    text = (
        '<form method="post" action="/take-in"><button>a</button></form><a href="/take-in">b</a>'
        '<form method="post" action="/job/1/step"><button formaction="/job/1/tool">c</button><i>d</i></form>'
    )
    found = fitted(text, Viewer(Role.LEARNER, "d", "phone"), "t")
    assert re.sub(r"<input[^>]*>", "", found) == '<form method="post" action="/job/1/step"><i>d</i></form>'

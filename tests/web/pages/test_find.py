"""Entering what was done: once, in any order, and never against what the other hand changed."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from firstpull.bench.find import enter
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop

DARK = {"check": "spark-at-tester", "reading": "dark"}


def send(client: TestClient, job: str, act: str, **fields: object) -> int:
    """The status of a posted step."""
    answer = client.post(f"/job/{job}/step", data={"act": act, "based_on": "1", **fields})
    return int(answer.status_code)


def test_an_answer_is_kept_and_the_page_goes_on(client: TestClient, shop: Shop, job: str) -> None:
    answer = client.post(f"/job/{job}/step", data={"act": "a", "based_on": "1", **DARK})
    assert (answer.status_code, answer.headers["location"]) == (303, f"/job/{job}")
    assert "Spark at the tester dark" in client.get(f"/job/{job}").text
    assert len(shop.record(job).readings) == 1


def test_the_same_form_sent_twice_is_stored_once(client: TestClient, shop: Shop, job: str) -> None:
    assert send(client, job, "a", **DARK) == 303
    assert send(client, job, "a", **DARK) == 303
    assert send(client, job, "m", move=["control-held=on", "cover=off"]) == 303
    assert send(client, job, "m", move=["control-held=on", "cover=off"]) == 303
    record = shop.record(job)
    assert (len(record.readings), len(record.access)) == (1, 2)


def test_moves_ticked_beside_an_answer_are_kept_before_it(client: TestClient, shop: Shop, job: str) -> None:
    assert send(client, job, "a", move="control-held=on", **DARK) == 303
    kinds = [e.kind for e in shop.record(job).events if e.kind in ("access", "reading")]
    assert kinds == ["access", "reading"]


def test_what_could_not_be_done_moved_nothing(client: TestClient, shop: Shop, job: str) -> None:
    assert send(client, job, "a", move="cover=off", check="spark-at-tester", reading="not-done") == 303
    assert shop.record(job).access == ()


def test_a_move_on_a_stale_page_is_answered_with_what_changed(client: TestClient, shop: Shop, job: str) -> None:
    seen = shop.record(job).last_seq
    enter(shop, job, {"access": "stop-lead", "state": "off"}, act_id="other", based_on=seen, by="Ines")
    answer = client.post(f"/job/{job}/step", data={"act": "mine", "based_on": str(seen), "move": "cover=off"})
    assert answer.status_code == 409
    assert "Ines has changed something meanwhile: access stop-lead off" in answer.text
    assert [e.body["item"] for e in shop.record(job).access] == ["stop-lead"]


def test_a_reading_on_a_stale_page_is_kept_because_it_is_true(client: TestClient, shop: Shop, job: str) -> None:
    enter(shop, job, {"access": "stop-lead", "state": "off"}, act_id="other", based_on=1, by="Ines")
    assert send(client, job, "mine", **DARK) == 303


def test_undo_takes_an_act_out_of_the_reckoning_and_leaves_it_in_the_record(
    client: TestClient, shop: Shop, job: str
) -> None:
    send(client, job, "a", **DARK)
    assert client.post(f"/job/{job}/undo", data={"act": "u", "based_on": "2", "undone": "a"}).status_code == 303
    record = shop.record(job)
    assert record.readings == ()
    assert "a" in record.withdrawn


def test_a_number_without_a_unit_stays_in_the_box(client: TestClient, job: str) -> None:
    answer = client.post(f"/job/{job}/step", data={"act": "a", "check": "coil-gap", "value": "12 bananas"})
    assert answer.status_code == 422
    assert "Unknown unit" in answer.text


@pytest.mark.parametrize(
    ("value", "unit", "millimetres"), [("12", "thou", 0.3048), ("0,3", "mm", 0.3), ("0.3 mm", "thou", 0.3)]
)
def test_a_number_is_kept_in_the_unit_that_was_chosen_or_typed(
    client: TestClient, shop: Shop, job: str, value: str, unit: str, millimetres: float
) -> None:
    assert send(client, job, "a", check="coil-gap", value=value, unit=unit) == 303
    said = str(shop.record(job).readings[0].body["reading"])
    number, _, kept = said.replace(",", ".").partition(" ")
    assert float(number) * {"mm": 1.0, "thou": 0.0254}[kept] == pytest.approx(millimetres)


def test_the_unstoppable_state_is_said_first_and_in_words(client: TestClient, job: str) -> None:
    assert send(client, job, "a", move="stop-lead=off") == 303
    text = client.get(f"/job/{job}").text
    assert text.index("This engine cannot be stopped") < text.index("Off the machine") < text.index("step-name")
    assert 'role="alert"' in text


def test_a_tool_that_is_not_here_is_proposed_no_more(client: TestClient, shop: Shop, job: str) -> None:
    answer = client.post(f"/job/{job}/tool", data={"act": "t", "tool": "ohmmeter"})
    assert answer.status_code == 303
    assert "ohmmeter" not in (shop.prices().owned or {"ohmmeter"})
    assert client.post(f"/job/{job}/tool", data={"act": "t", "tool": "eye"}).status_code == 422


def test_a_machine_of_unknown_kind_is_asked_about_and_then_reckoned(client: TestClient, shop: Shop) -> None:
    said = {"who": "Bram", "number": "1", "complaint": "hums", "limit": "20", "act": "i"}
    page = client.post("/take-in", data=said).headers["location"]
    asked = client.get(page).text
    assert "Which kind of machine is it?" in asked
    act = re.search(r'name="act" value="([^"]+)"', asked)
    assert act is not None
    sent = {"act": act[1], "machine": "walk-mower-sv"}
    assert client.post(f"{page}/kind", data=sent).status_code == 303
    assert "step-name" in client.get(page).text


def test_what_did_not_show_here_may_go_back_with_the_job_kept_open(client: TestClient, shop: Shop) -> None:
    said = Counter("Bram Oakley", "0555 0102", "test button does not trip", "90", "generator-brush-50")
    job = take_in(shop, said, act_id="in-2", by="Wren")
    complaint = "safety-button-dead"
    for act, (check, reading) in enumerate(
        [("outlet-volts", "about-230"), (complaint, "gone"), ("fuel-smell", "fresh")]
    ):
        assert send(client, job, str(act), check=check, reading=reading) == 303
    page = client.get(f"/job/{job}").text
    assert "It would not fail here" in page
    assert "something sleeps in it" in page
    assert f'href="/job/{job}/release">Prove it and keep the job open' in page


NONSENSE = ["", "\x00", "9" * 4000, "<script>alert(1)</script>", "../../etc", "nan", "1e999 mm", "-0", "\u202e{{7*7}}",
            "'; drop table events; --", "\ud7ff\uffff", "a\nb\nc=d"]
FIELDS = ["act", "based_on", "move", "check", "reading", "value", "unit", "drive", "while", "spread", "place",
          "places_key", "value_key", "repair", "undone", "text", "tool", "machine", "back", "door", "why", "name", "to",
          "fuel", "reason-starts-cold"]


@pytest.mark.parametrize("path", ["step", "undo", "note", "tool", "kind", "release", "owner"])
@pytest.mark.parametrize("nonsense", NONSENSE)
def test_nonsense_in_any_field_is_refused_and_never_breaks_the_page(
    one_for_all: tuple[TestClient, Shop, str], path: str, nonsense: str
) -> None:
    client, shop, job = one_for_all
    sound = {"act": "in-1", "based_on": "1", **DARK}  # an act that is known: what is sound is kept only once
    for field in FIELDS:
        answer = client.post(f"/job/{job}/{path}", data={**sound, field: nonsense})
        assert answer.status_code < 500, (path, field)
        assert "<script>alert" not in answer.text
    assert shop.record(job).machine_class == "walk-mower-ohv"


def test_an_upload_where_a_text_belongs_is_refused(client: TestClient, job: str) -> None:
    answer = client.post(f"/job/{job}/note", files={"text": ("a.txt", b"hello")}, data={"act": "f"})
    assert 400 <= answer.status_code < 500


def test_fuel_open_on_another_job_is_said_before_a_step_that_sparks(client: TestClient, shop: Shop, job: str) -> None:
    other = take_in(shop, Counter("Bram", "0555", "won't start", "60", "walk-mower-ohv"), act_id="in-2", by="Wren")
    words = f"Fuel is open on job {other}"
    assert words not in client.get(f"/job/{job}").text
    enter(shop, other, {"access": "fuel-hose", "state": "off"}, act_id="x", based_on=1, by="Wren")
    assert words in client.get(f"/job/{job}").text
    card = client.get(f"/job/{job}/check/spark-at-tester").text
    assert card.index(words) < card.index('name="reading"')
    assert words in client.get(f"/job/{job}/release").text
    assert words not in client.get(f"/job/{job}/check/coil-gap").text
    assert words not in client.get(f"/job/{other}").text


def test_the_places_of_a_check_that_asks_for_nothing_else_are_kept(client: TestClient, shop: Shop, job: str) -> None:
    live = shop.live(shop.record(job))
    assert live is not None
    check = next(c for c in live.session.book.checks.values() if len(c.readings) == 1 and c.readings[0].several)
    place = check.readings[0].outcomes[0].id
    assert send(client, job, "a", check=check.id, places_key="", place=[place]) == 303
    assert shop.record(job).readings[0].body["reading"] == {"reading": [place]}


def test_what_was_typed_wrong_for_another_step_is_mended_on_its_own_sheet(client: TestClient, job: str) -> None:
    said = {"act": "a", "based_on": "1", "check": "coil-gap", "value": "abc", "unit": "mm"}
    answer = client.post(f"/job/{job}/step", data=said)
    assert answer.status_code == 422
    assert "is not a number" in answer.text
    assert 'name="check" value="coil-gap"' in answer.text
    assert answer.text.count('value="abc"') == 1
    assert 'class="suspects"' not in answer.text

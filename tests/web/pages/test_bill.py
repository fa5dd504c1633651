"""The bill as it stands, and one tap for the clock."""

from __future__ import annotations

from starlette.testclient import TestClient

from firstpull.bench.find import enter
from firstpull.bench.shop import Shop


def test_the_clock_starts_and_pauses_with_one_tap_and_stays_on_the_sheet(
    client: TestClient, shop: Shop, job: str
) -> None:
    came = {"referer": f"http://testserver/job/{job}/bill"}
    start = {"act": "c1", "based_on": "1", "state": "started"}
    answer = client.post(f"/job/{job}/clock", data=start, headers=came)
    assert (answer.status_code, answer.headers["location"]) == (303, f"/job/{job}/bill")
    assert len(shop.record(job).worked.running) == 1
    assert "Pause the clock" in client.get(f"/job/{job}/bill").text
    client.post(f"/job/{job}/clock", data={"act": "c2", "based_on": "2", "state": "paused"})
    assert shop.record(job).worked.running == ()
    assert "Start the clock" in client.get(f"/job/{job}/bill").text


def test_a_tap_that_came_from_elsewhere_leads_to_the_job(client: TestClient, job: str) -> None:
    for number, came in enumerate(("http://elsewhere.test/job/1/bill", "http://testserver/job/1/step", "nonsense", "")):
        said = {"act": f"c{number}", "based_on": "1", "state": "started"}
        answer = client.post(f"/job/{job}/clock", data=said, headers={"referer": came})
        assert answer.headers["location"] == f"/job/{job}"


def test_a_state_that_no_clock_has_is_refused(client: TestClient, shop: Shop, job: str) -> None:
    said = {"act": "c", "based_on": "1", "state": "stolen"}
    assert client.post(f"/job/{job}/clock", data=said).status_code == 422
    assert shop.record(job).worked.running == ()


def test_what_was_done_stands_on_the_bill_with_what_may_be_charged(client: TestClient, shop: Shop, job: str) -> None:
    enter(shop, job, {"repair": "renew-plug"}, act_id="r", based_on=1, by="Wren")
    text = client.get(f"/job/{job}/bill").text
    assert "All together" in text
    assert "May be charged" in text
    assert shop.room.book.name("repair", "renew-plug") in text

"""What was before, and all that was done."""

from __future__ import annotations

from starlette.testclient import TestClient

from firstpull.bench.find import enter
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.shop import Shop


def test_every_act_stands_with_its_hand_and_a_withdrawn_one_says_so(client: TestClient, shop: Shop, job: str) -> None:
    enter(shop, job, {"access": "muffler", "state": "off"}, act_id="x", based_on=1, by="Ines")
    text = client.get(f"/job/{job}/history").text
    assert "Ines" in text
    assert "Muffler: off" in text
    client.post(f"/job/{job}/undo", data={"act": "u", "based_on": "2", "undone": "x"})
    assert "Muffler: off (withdrawn)" in client.get(f"/job/{job}/history").text


def test_an_earlier_job_of_the_same_owner_and_kind_is_shown(client: TestClient, shop: Shop, job: str) -> None:
    assert "None of this machine" in client.get(f"/job/{job}/history").text
    again = Counter("Ada Fenwright", "0555 0101", "won't start", "90", "walk-mower-ohv")
    later = take_in(shop, again, act_id="in-2", by="Wren")
    assert f"Job {job}" in client.get(f"/job/{later}/history").text


def test_why_it_came_back_is_kept_and_a_wrong_answer_keeps_nothing(client: TestClient, shop: Shop, job: str) -> None:
    again = Counter("Ada Fenwright", "0555 0101", "won't start", "90", "walk-mower-ohv")
    later = take_in(shop, again, act_id="in-2", by="Wren")
    wrong = {"act": "a", "based_on": "1", "of": later, "cause_class": ""}
    assert client.post(f"/job/{later}/history", data=wrong).status_code == 422
    assert not shop.record(later).comeback_of
    right = {"act": "b", "based_on": "1", "of": job, "cause_class": ""}
    assert client.post(f"/job/{later}/history", data=right).status_code == 303
    assert shop.record(later).comeback_of == job

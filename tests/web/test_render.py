"""Which parts are drawn, and where a form leads."""

from __future__ import annotations

from starlette.testclient import TestClient

from firstpull.bench.find import enter
from firstpull.bench.shop import Shop
from firstpull.web.render import drawn_parts


def test_the_parts_suspected_most_often_have_a_place_in_a_drawing() -> None:
    assert {"coil", "carburettor", "plug", "flywheel", "stop-lead", "tank", "key", "rope", "blade"} <= drawn_parts()


def test_a_suspected_part_without_a_place_is_named_beside_the_drawing(client: TestClient, shop: Shop, job: str) -> None:
    enter(shop, job, {"check": "spark-at-tester", "reading": "dark"}, act_id="d", based_on=1, by="Wren")
    text = client.get(f"/job/{job}").text
    assert "tester" not in drawn_parts()
    assert ("Not in the drawing:" in text) == ("</svg> tester" in text)


def test_a_script_is_told_where_to_go_on_and_a_bare_browser_is_sent(client: TestClient, job: str) -> None:
    said = {"act": "a", "based_on": "1", "check": "spark-at-tester", "reading": "dark"}
    part = client.post(f"/job/{job}/step", data=said, headers={"x-part": "1"})
    whole = client.post(f"/job/{job}/step", data=said)
    assert (part.status_code, part.headers["x-next"]) == (204, f"/job/{job}")
    assert (whole.status_code, whole.headers["location"]) == (303, f"/job/{job}")

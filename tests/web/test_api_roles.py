"""Whatever the API's own description allows is answered to every role without a fault, and tells none whose it is."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis.core import NOT_SET
from schemathesis.core.result import Ok
from starlette.testclient import TestClient

from firstpull.bench.find import note
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.wiring import open_shop
from firstpull.web.rates import Rates
from firstpull.web.roles import Role
from tests.web.lan import Network

NAMES = ("POST /api/reason", "GET /api/handbook/{kind}", "GET /api/jobs/{job}", "POST /api/jobs/{job}/steps")
SECRETS = ("Fenwright", "0555 0101")


@pytest.fixture(scope="module")
def net(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Network]:
    """A workshop open to the network that never asks to wait, with one job that says whose it is."""
    shop = open_shop(tmp_path_factory.mktemp("api-roles"))
    said = Counter("Ada Fenwright", "0555 0101", "won't start, ring Ada Fenwright", "90", "")
    job = take_in(shop, said, act_id="in-1", by="Wren")
    note(shop, job, "Ada Fenwright rang from 0555 0101", act_id="in-2", based_on=1, by="Wren")
    found = Network(shop)
    later = itertools.count(step=1000)
    found.gate.rates = Rates(lambda: float(next(later)))
    yield found
    shop.store.close()


@pytest.fixture(scope="module")
def operations(net: Network) -> dict[str, Any]:
    """The operations that the API says it has."""
    text = net.bench().get("/api/openapi.json").json()
    schema = schemathesis.openapi.from_dict(text)
    each = [found.ok() for found in schema.get_all_operations() if isinstance(found, Ok)]
    return {operation.label: operation for operation in each}


@pytest.fixture(scope="module")
def devices(net: Network) -> dict[Role, TestClient]:
    """One device of each role."""
    return {role: net.device(role) for role in Role}


@pytest.mark.parametrize("name", NAMES)
def test_no_request_of_any_role_breaks_the_api_or_names_anybody(
    operations: dict[str, Any], devices: dict[Role, TestClient], name: str
) -> None:
    @given(case=operations[name].as_strategy())
    @settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
    def asked(case: Any) -> None:
        body = None if case.body is NOT_SET else case.body
        for role, client in devices.items():
            paths = [case.formatted_path, case.path.replace("{job}", "1").replace("{kind}", "faults")]
            for path in paths:
                answer = client.request(case.method, path, params=dict(case.query or {}), json=body)
                assert answer.status_code < 500, (role, path)
                assert answer.status_code != 429
                if role is not Role.OWNER:
                    assert not any(secret in answer.text for secret in SECRETS)
                if answer.status_code in (401, 403, 422):
                    assert "error" in answer.json() or "detail" in answer.json()

    asked()


@pytest.mark.parametrize(
    ("role", "step", "status"),
    [
        (Role.COUNTER, {"check": "spark-at-tester", "reading": "dark"}, 403),
        (Role.COUNTER, {"repair": "renew-plug"}, 403),
        (Role.COUNTER, {"told": "stored-with-fuel", "repair": "renew-plug"}, 403),
        (Role.COUNTER, {"access": "stop-lead", "state": "off"}, 403),
        (Role.COUNTER, {"told": "stored-with-fuel"}, 200),
        (Role.BENCH, {"check": "spark-at-tester", "reading": "dark"}, 200),
        (Role.BENCH, {"repair": "renew-plug"}, 200),
    ],
)
def test_the_api_refuses_what_the_pages_refuse(
    devices: dict[Role, TestClient], net: Network, role: Role, step: dict[str, str], status: int
) -> None:
    before = net.shop.record("1").last_seq
    answer = devices[role].post("/api/jobs/1/steps", params={"act_id": f"{role}-{sorted(step.items())}"}, json=step)
    assert answer.status_code == status
    assert (net.shop.record("1").last_seq > before) == (status == 200)
    if status == 403:
        assert answer.json()["error"]["what"].startswith("a counter screen may not")


def test_the_description_itself_is_for_paired_devices(net: Network) -> None:
    assert net.stranger().get("/api/openapi.json").status_code == 401

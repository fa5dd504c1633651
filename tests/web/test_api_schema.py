"""Whatever the API's own description allows is answered, and never with a server error."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis.core.result import Ok

from firstpull.bench.wiring import open_shop
from firstpull.web.app import make_app

NAMES = ("POST /api/reason", "GET /api/handbook/{kind}", "GET /api/jobs/{job}", "POST /api/jobs/{job}/steps")


@pytest.fixture(scope="module")
def operations(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Any]]:
    """The operations that an empty workshop's API says it has."""
    shop = open_shop(tmp_path_factory.mktemp("api"))
    schema = schemathesis.openapi.from_asgi("/api/openapi.json", make_app(shop))
    each = [found.ok() for found in schema.get_all_operations() if isinstance(found, Ok)]
    yield {operation.label: operation for operation in each}
    shop.store.close()


def test_no_operation_goes_untried(operations: dict[str, Any]) -> None:
    assert set(operations) == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_no_request_breaks_the_api(operations: dict[str, Any], name: str) -> None:
    @given(case=operations[name].as_strategy())
    @settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
    def asked(case: Any) -> None:
        answer = case.call(headers={"origin": "http://testserver"})
        assert answer.status_code < 500
        if answer.status_code == 422:
            assert "error" in answer.json() or "detail" in answer.json()

    asked()

"""The application as a whole: what is mounted, and that nothing comes from outside."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient


def test_the_partial_update_script_comes_from_this_machine(client: TestClient) -> None:
    assert client.get("/vendor/htmx-4.min.js").status_code == 200


def test_no_documentation_page_that_loads_from_elsewhere_is_served(client: TestClient) -> None:
    assert client.get("/docs").status_code == 404
    assert client.get("/api/openapi.json").status_code == 200


@pytest.mark.parametrize("path", ["/", "/take-in", "/job/{job}", "/job/{job}/did", "/job/{job}/release"])
def test_a_page_asks_for_nothing_outside(client: TestClient, job: str, path: str) -> None:
    text = client.get(path.format(job=job)).text
    loaded = re.findall(r'(?:src|href|action|formaction)="([^"]*)"', text)
    assert loaded
    assert [u for u in loaded if not u.startswith(("/", "#", "data:,"))] == []


@pytest.mark.parametrize("path", ["/job/none", "/job/none/release", "/job/none/did", "/job/none/check/spark-at-tester"])
def test_a_job_that_is_not_there_is_said_on_a_page(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 422
    assert "No job" in answer.text

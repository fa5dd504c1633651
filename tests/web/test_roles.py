"""The one table: every address is in it, and it says what each role may do."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as some
from starlette.routing import Mount

from firstpull.bench.shop import Shop
from firstpull.web.app import make_app
from firstpull.web.roles import FOLDERS, FORM_BYTES, MAY, ROLE_NAMES, TABLE, WORDS, Act, Role, entry_for, may


def addresses(routes: Any, prefix: str = "") -> set[str]:
    """Every method and address that an application answers to, folders by their name."""
    found: set[str] = set()
    for route in routes:
        if isinstance(route, Mount):
            found.add(f"GET {prefix}{route.path}")
        elif hasattr(route, "original_router"):
            found |= addresses(route.original_router.routes, prefix + route.include_context.prefix)
        else:
            found |= {f"{method} {prefix}{route.path}" for method in route.methods - {"HEAD"}}
    return found


def test_every_address_has_a_line_and_every_line_an_address(shop: Shop) -> None:
    assert addresses(make_app(shop).router.routes) == set(TABLE)


def test_a_new_address_without_a_line_would_be_seen(shop: Shop) -> None:
    app = make_app(shop)
    app.add_api_route("/job/{job}/secret", lambda job: job, methods=["GET"])
    assert addresses(app.router.routes) - set(TABLE) == {"GET /job/{job}/secret"}
    assert entry_for("GET", "/job/1/secret") is None


@pytest.mark.parametrize("line", sorted(TABLE))
def test_a_line_is_found_by_an_address_that_fits_it(line: str) -> None:
    method, _, path = line.partition(" ")
    for value in ("1", "a-b", "Übermaß", "%2e%2e"):
        filled = path.replace("{job}", value).replace("{name}", value).replace("{check}", value)
        filled = filled.replace("{kind}", value).replace("{file}", value).replace("{key}", value)
        assert entry_for(method, filled + ("/sheet.css" if line in FOLDERS else "")) == TABLE[line]


@given(some.text(min_size=1).filter(lambda t: "/" not in t))
def test_no_odd_job_number_reaches_another_line(job: str) -> None:
    assert entry_for("POST", f"/job/{job}/step") == TABLE["POST /job/{job}/step"]
    assert entry_for("POST", f"/job/{job}/step/") is None
    assert entry_for("PUT", f"/job/{job}/step") is None


@pytest.mark.parametrize(
    ("role", "can", "cannot"),
    [
        (Role.COUNTER, {Act.TAKE_IN, Act.HAND_BACK, Act.ESTIMATE, Act.LOOK}, {Act.READ, Act.REPAIR, Act.RELEASE}),
        (Role.BENCH, {Act.READ, Act.REPAIR, Act.RELEASE}, {Act.TAKE_IN, Act.HAND_BACK, Act.ESTIMATE}),
        (Role.LEARNER, {Act.READ, Act.PROPOSE}, {Act.INSTRUCT, Act.RELEASE, Act.TAKE_IN, Act.ROUND}),
        (Role.INSTRUCTOR, {Act.INSTRUCT, Act.RELEASE}, {Act.SETTINGS, Act.DEVICES}),
    ],
)
def test_each_role_may_do_its_own_work_and_not_that_of_others(role: Role, can: set[Act], cannot: set[Act]) -> None:
    assert can <= MAY[role]
    assert not cannot & MAY[role]


def test_settings_devices_and_sums_beyond_the_agreed_are_the_shop_owners_alone() -> None:
    for act in (Act.SETTINGS, Act.DEVICES, Act.CODE, Act.APPROVE_OVER):
        assert [role for role in Role if may(role, act)] == [Role.OWNER]


def test_whoever_is_not_paired_may_pair_and_nothing_else() -> None:
    assert [act for act in Act if may(None, act)] == [Act.PAIR]
    assert {line for line, entry in TABLE.items() if entry.unpaired} == {"GET /static", "GET /pair", "POST /pair"}


def test_every_role_and_act_has_words_and_every_line_an_act() -> None:
    assert set(ROLE_NAMES) == set(Role)
    assert set(WORDS) == set(Act)
    assert all(entry.acts for entry in TABLE.values())
    assert {line for line, entry in TABLE.items() if entry.largest > FORM_BYTES} == {"POST /job/{job}/pictures"}

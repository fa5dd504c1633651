"""Prices of the invented shop in Harrow Vale, and suspects to price."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from firstpull.base.money import Money
from firstpull.workshop.estimate import EstimateInput, Suspect
from firstpull.workshop.pricing import Minutes, PartPrice, Prices, Span


def eur(amount: str) -> Money:
    return Money.of(amount, "EUR")


def span(low: str, usual: str, high: str) -> Span:
    return Span(eur(low), eur(usual), eur(high))


def shop(**change: Any) -> Prices:
    facts: dict[str, Any] = {"rate_per_hour": eur("60.00"), "find_fee": eur("30.00"), "tax": Decimal("0.20")}
    return Prices(**{**facts, **change})


LEAD = Suspect("chafed stop lead", 0.6, Minutes(15, 20, 30))
COIL = Suspect("dead coil", 0.35, Minutes(20, 25, 40), (PartPrice("coil", span("40.00", "55.00", "80.00")),), (), 3)
REST = Suspect("sheared key", 0.05, Minutes(40, 60, 90))


def asked(**change: Any) -> EstimateInput:
    facts: dict[str, Any] = {"suspects": (REST, LEAD, COIL), "prices": shop(), "earliest": "2026-04-14"}
    return EstimateInput(**{**facts, **change})

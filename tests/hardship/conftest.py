"""The same stores as in the tests of the workshop."""

from __future__ import annotations

from tests.workshop.conftest import address, opened, postgres_url, store

__all__ = ["address", "opened", "postgres_url", "store"]

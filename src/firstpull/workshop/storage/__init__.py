"""The record on disk.

One set of tables, kept in SQLite or in PostgreSQL. Only the wiring of the bench comes here.
"""

from firstpull.workshop.storage.opening import open_store

__all__ = ["open_store"]

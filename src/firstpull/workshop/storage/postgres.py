"""The same tables on a PostgreSQL server, for two benches that share one record."""

from __future__ import annotations

import importlib.util

from sqlalchemy import create_engine
from sqlalchemy.engine import make_url

from firstpull.base.errors import StorageError
from firstpull.workshop.storage.door import Door


def postgres_door(url: str) -> Door:
    """The door to the record on the server of this URL (`postgresql://user@host/name`).

    Raises:
        StorageError: when the driver is not installed.
    """
    if importlib.util.find_spec("psycopg") is None:
        raise StorageError("the PostgreSQL driver is not installed", url, "pip install 'firstpull[postgres]'")
    address = make_url(url).set(drivername="postgresql+psycopg")
    # pre_ping: a connection that died with a restarted server is replaced before it is used.
    engine = create_engine(
        address,
        pool_pre_ping=True,
        pool_size=8,
        connect_args={"options": "-c synchronous_commit=on -c timezone=UTC", "connect_timeout": 5},
    )
    # Readers see one state of the record, however many statements they need.
    reader = engine.execution_options(isolation_level="REPEATABLE READ")
    return Door(engine, reader, address.render_as_string(hide_password=True))

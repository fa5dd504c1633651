"""Settings of the shop, the counter of job numbers, and handbooks and rates kept whole."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, select, update

from firstpull.base.errors import InputError
from firstpull.workshop.storage import schema
from firstpull.workshop.storage.rows import put

NUMBER = "next-job-number"


def put_setting(connection: Connection, key: str, value: Any) -> None:
    """Keep one setting.

    Raises:
        InputError: when JSON cannot hold it.
    """
    try:
        text = json.dumps(value, allow_nan=False, sort_keys=True)
    except (TypeError, ValueError) as error:
        raise InputError(str(error), f"setting {key}", "a value that JSON can hold") from error
    put(connection, schema.settings, {"key": key, "value": text}, replace=True)


def all_settings(connection: Connection) -> Mapping[str, Any]:
    """Every setting of the shop."""
    found = connection.execute(select(schema.settings.c.key, schema.settings.c.value).order_by(schema.settings.c.key))
    return {key: json.loads(value) for key, value in found if key != NUMBER}


def get_setting(connection: Connection, key: str, default: Any) -> Any:
    """One setting, or the default."""
    found = connection.execute(select(schema.settings.c.value).where(schema.settings.c.key == key)).scalar()
    return default if found is None else json.loads(found)


def next_number(connection: Connection) -> int:
    """The next job number; the row is held until the commit, so that no number is given twice."""
    put(connection, schema.settings, {"key": NUMBER, "value": "0"}, replace=False)
    held = select(schema.settings.c.value).where(schema.settings.c.key == NUMBER).with_for_update()
    number = int(connection.execute(held).scalar_one()) + 1
    connection.execute(update(schema.settings).where(schema.settings.c.key == NUMBER).values(value=str(number)))
    return number


def put_stamp(connection: Connection, kind: str, data: bytes) -> str:
    """Keep bytes whole under their hash."""
    hash = hashlib.sha256(data).hexdigest()
    put(connection, schema.stamps, {"hash": hash, "kind": kind, "data": data}, replace=False)
    return hash


def get_stamp(connection: Connection, hash: str) -> bytes | None:
    """What was kept under that hash, or nothing."""
    found = connection.execute(select(schema.stamps.c.data).where(schema.stamps.c.hash == hash)).scalar()
    return None if found is None else bytes(found)

"""Small pieces of SQL that both databases share."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, TypeVar

from sqlalchemy import Connection, Table
from sqlalchemy.dialects import postgresql, sqlite

Item = TypeVar("Item")


def put(connection: Connection, table: Table, row: Mapping[str, Any], *, replace: bool) -> None:
    """Write one row; an existing row of the same key is replaced, or left as it is."""
    put_many(connection, table, [row], replace=replace)


def put_many(connection: Connection, table: Table, rows: Sequence[Mapping[str, Any]], *, replace: bool) -> None:
    """Write rows; existing rows of the same keys are replaced, or left as they are."""
    if not rows:
        return
    make = sqlite.insert if connection.dialect.name == "sqlite" else postgresql.insert
    keys = [column.name for column in table.primary_key]
    statement = make(table)
    rest = {name: statement.excluded[name] for name in rows[0] if name not in keys}
    if replace and rest:
        statement = statement.on_conflict_do_update(index_elements=keys, set_=rest)
    else:
        statement = statement.on_conflict_do_nothing(index_elements=keys)
    connection.execute(statement, [dict(row) for row in rows])


def in_pieces(items: Iterable[Item], size: int = 500) -> Iterator[list[Item]]:
    """The items in lists short enough for one statement."""
    piece: list[Item] = []
    for item in items:
        piece.append(item)
        if len(piece) == size:
            yield piece
            piece = []
    if piece:
        yield piece

"""Photos, recordings and the data a job was reasoned with, each by the SHA-256 of its bytes."""

from __future__ import annotations

import hashlib

from sqlalchemy import Connection, select

from firstpull.base.errors import InputError
from firstpull.workshop.port import Blob
from firstpull.workshop.storage import schema
from firstpull.workshop.storage.rows import put

LARGEST = 25_000_000  # judgement: two minutes of mono recording at 48 kHz, or any telephone photo
# How each type begins (bytes, at). From memory of the formats' own definitions.
_BEGINS: dict[str, tuple[tuple[int, bytes], ...]] = {
    "image/jpeg": ((0, b"\xff\xd8\xff"),),
    "image/png": ((0, b"\x89PNG\r\n\x1a\n"),),
    "image/webp": ((0, b"RIFF"), (8, b"WEBP")),
    "audio/wav": ((0, b"RIFF"), (8, b"WAVE")),
    "audio/ogg": ((0, b"OggS"),),
    "audio/webm": ((0, b"\x1a\x45\xdf\xa3"),),
    "video/webm": ((0, b"\x1a\x45\xdf\xa3"),),
    "audio/mp4": ((4, b"ftyp"),),
    "video/mp4": ((4, b"ftyp"),),
    "application/pdf": ((0, b"%PDF"),),
}


def checked_hash(data: bytes, type: str) -> str:
    """The hash of bytes that are of the type they claim and not too large.

    Raises:
        InputError: when they are not.
    """
    if not data or len(data) > LARGEST:
        raise InputError(f"{len(data)} bytes", "photo or recording", f"1 to {LARGEST} bytes")
    if type not in _BEGINS:
        raise InputError(f"a {type!r} is not kept", "photo or recording", f"one of {', '.join(sorted(_BEGINS))}")
    if not all(data[at : at + len(sign)] == sign for at, sign in _BEGINS[type]):
        raise InputError(f"these bytes are not {type}", "photo or recording", "the type the camera wrote")
    return hashlib.sha256(data).hexdigest()


def put_blob(connection: Connection, hash: str, data: bytes, type: str, person: str) -> str:
    """Keep the bytes and whose they are; the same bytes are kept once."""
    put(connection, schema.blobs, {"hash": hash, "type": type, "data": data}, replace=False)
    put(connection, schema.blob_owners, {"hash": hash, "person": person}, replace=False)
    return hash


def get_blob(connection: Connection, hash: str) -> Blob | None:
    """The bytes of that hash, or nothing."""
    found = connection.execute(
        select(schema.blobs.c.hash, schema.blobs.c.type, schema.blobs.c.data).where(schema.blobs.c.hash == hash)
    ).first()
    return None if found is None else Blob(found.hash, found.type, bytes(found.data))

"""A photo without what the camera wrote beside it: place, time, owner and thumbnail go, the way up stays.

Layouts of the three formats: JPEG ISO/IEC 10918-1 and Exif (CIPA DC-008), PNG ISO/IEC 15948, WebP container (RIFF);
the codes below from memory of those texts.
"""

from __future__ import annotations

import struct

from firstpull.base.errors import InputError

LARGEST = 15_000_000  # judgement: any telephone's photo
_ORIENTATION = 0x0112
# JPEG segments that colour needs: the plain header, the colour profile, and how the colours are coded.
_KEPT_SEGMENTS = frozenset({0xE0, 0xE2, 0xEE})
_PNG_SAID = frozenset({b"eXIf", b"tEXt", b"zTXt", b"iTXt", b"tIME"})
_WEBP_SAID = frozenset({b"EXIF", b"XMP "})
_WEBP_SAID_FLAGS = 0x08 | 0x04


def bare_picture(data: bytes) -> tuple[bytes, str]:
    """The picture alone and its type, by how its bytes begin.

    Raises:
        InputError: it is too large, or no picture of a kind that is kept.
    """
    if not data:
        raise InputError("no picture came", "picture", "take one, or choose one")
    if len(data) > LARGEST:
        raise InputError(f"the picture has {len(data) / 1e6:.0f} MB", "picture", f"at most {LARGEST / 1e6:.0f} MB")
    try:
        if data.startswith(b"\xff\xd8\xff"):
            return _jpeg(data), "image/jpeg"
        if data.startswith(b"\x89PNG\r\n\x1a\n"):
            return _png(data), "image/png"
        if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
            return _webp(data), "image/webp"
    except (struct.error, IndexError) as error:
        raise InputError("the picture breaks off", "picture", "take it again") from error
    raise InputError("this is no picture that can be kept", "picture", "a JPEG, PNG or WebP")


def _jpeg(data: bytes) -> bytes:
    found, at, way_up = [data[:2]], 2, 1
    while True:
        if data[at] != 0xFF:
            raise IndexError(at)
        mark = data[at + 1]
        if mark == 0xDA:  # the picture itself follows to the end
            break
        (length,) = struct.unpack_from(">H", data, at + 2)
        segment = data[at : at + 2 + length]
        if length < 2 or len(segment) < 2 + length:
            raise IndexError(at)
        if mark == 0xE1 and segment[4:10] == b"Exif\x00\x00":
            way_up = _way_up(segment[10:])
        if not (0xE0 <= mark <= 0xEF or mark == 0xFE) or mark in _KEPT_SEGMENTS:
            found.append(segment)
        at += 2 + length
    if way_up != 1:
        found.insert(1, _only_the_way_up(way_up))
    return b"".join([*found, data[at:]])


def _way_up(tiff: bytes) -> int:
    """Which way up the camera was held, from 1 to 8; 1 where it does not say."""
    order = {b"II": "<", b"MM": ">"}.get(tiff[:2])
    if order is None or len(tiff) < 10:
        return 1
    (start,) = struct.unpack_from(f"{order}I", tiff, 4)
    if start + 2 > len(tiff):
        return 1
    (count,) = struct.unpack_from(f"{order}H", tiff, start)
    for place in range(start + 2, min(start + 2 + 12 * count, len(tiff) - 11), 12):
        tag, _, _, value = struct.unpack_from(f"{order}HHIH", tiff, place)
        if tag == _ORIENTATION and 1 <= value <= 8:
            return int(value)
    return 1


def _only_the_way_up(value: int) -> bytes:
    """An Exif segment that says nothing but which way is up."""
    tiff = b"MM\x00\x2a" + struct.pack(">IHHHIHHI", 8, 1, _ORIENTATION, 3, 1, value, 0, 0)
    body = b"Exif\x00\x00" + tiff
    return b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body


def _png(data: bytes) -> bytes:
    found, at = [data[:8]], 8
    while at < len(data):
        length, name = struct.unpack_from(">I4s", data, at)
        chunk = data[at : at + 12 + length]
        if len(chunk) < 12 + length:
            raise IndexError(at)
        if name not in _PNG_SAID:
            found.append(chunk)
        at += 12 + length
        if name == b"IEND":
            return b"".join(found)
    raise IndexError(at)


def _webp(data: bytes) -> bytes:
    found, at = [], 12
    while at + 8 <= len(data):
        name, length = struct.unpack_from("<4sI", data, at)
        whole = 8 + length + length % 2
        chunk = data[at : at + whole]
        if len(chunk) < 8 + length:
            raise IndexError(at)
        if name == b"VP8X":
            chunk = chunk[:8] + bytes([chunk[8] & ~_WEBP_SAID_FLAGS & 0xFF]) + chunk[9:]
        if name not in _WEBP_SAID:
            found.append(chunk)
        at += whole
    body = b"WEBP" + b"".join(found)
    if not found:
        raise IndexError(at)
    return b"RIFF" + struct.pack("<I", len(body)) + body

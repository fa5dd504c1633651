"""Pictures from the phone's camera: kept beside the record without what the camera wrote in them."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.base.errors import InputError
from firstpull.bench.picture_facts import bare_picture
from firstpull.bench.shop import Done, Shop
from firstpull.workshop.fold import JobRecord

LONGEST_CAPTION = 200
MOST_PICTURES = 200  # a job; judgement


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture of a job: by which act it came, the hash of its bytes, what it shows, when, and who took it."""

    act: str
    hash: str
    caption: str
    when: str
    by: str


def keep_picture(
    shop: Shop, job: str, data: bytes, caption: str = "", *, act_id: str, based_on: int, by: str
) -> Done:
    """Keep a picture with a job; sent twice it is kept once.

    Raises:
        InputError: there is no such job, the bytes are no picture that can be kept, or the job holds very many.
    """
    record = shop.record(job)
    if len(pictures_of(record)) >= MOST_PICTURES:
        raise InputError(f"{MOST_PICTURES} pictures are kept already", f"job {job}", "take some away first")
    bare, type_ = bare_picture(data)
    key = shop.store.put_blob(bare, type_, record.person)
    body = {"hash": key, "caption": caption.strip()[:LONGEST_CAPTION]}
    return shop.do(job, "photo", body, act_id=act_id, based_on=based_on, by=by)


def pictures_of(record: JobRecord) -> tuple[Picture, ...]:
    """The pictures of a job that were not taken away, the latest first."""
    return tuple(
        Picture(e.act_id, str(e.body["hash"]), str(e.body.get("caption") or ""), e.when, e.by)
        for e in reversed(record.photos) if e.act_id not in record.withdrawn
    )


def picture_bytes(shop: Shop, job: str, key: str) -> tuple[bytes, str]:
    """The bytes of one of a job's pictures and their type.

    Raises:
        InputError: the job has no such picture, or it was forgotten with its owner.
    """
    known = {picture.hash for picture in pictures_of(shop.record(job))}
    blob = shop.store.get_blob(key) if key in known else None
    if blob is None:
        raise InputError("no such picture", f"job {job}", "one of those on its page")
    return blob.data, blob.type

"""Pictures from the phone's camera: kept beside the record without what the camera wrote in them."""

from __future__ import annotations

from dataclasses import dataclass

from firstpull.base.errors import InputError
from firstpull.bench.picture_facts import bare_picture
from firstpull.bench.shop import Done, Shop
from firstpull.workshop.fold import JobRecord

LONGEST_CAPTION = 200
MOST_PICTURES = 200  # a job; judgement
# On the owner's sheet: so many, each a JPEG of so many bytes, which the phone's page makes of any picture; judgement.
MOST_ON_PAPER = 3
LARGEST_ON_PAPER = 800_000
_JPEG = b"\xff\xd8\xff"


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture of a job: by which act it came, the hash of its bytes, what it shows, when, and who took it.

    `for_owner` says whether it goes on the owner's sheet.
    """

    act: str
    hash: str
    caption: str
    when: str
    by: str
    for_owner: bool = False


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
    marked = {str(e.body["photo"]): bool(e.body.get("shown", True)) for e in record.photo_marks}
    return tuple(
        Picture(e.act_id, str(e.body["hash"]), str(e.body.get("caption") or ""), e.when, e.by,
                marked.get(e.act_id, False))
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


def mark_for_owner(
    shop: Shop, job: str, photo: str, shown: bool, *, act_id: str, based_on: int, by: str
) -> Done:
    """Have a picture, named by the act that brought it, go on the owner's sheet, or no longer.

    Raises:
        InputError: the job has no such picture, it is not fit for paper, or the sheet is full.
    """
    from firstpull.paper import can_be_drawn  # heavy, and asked for only here

    pictures = {p.act: p for p in pictures_of(shop.record(job))}
    picture = pictures.get(photo)
    if picture is None:
        raise InputError("no such picture", f"job {job}", "one of those on its page")
    if shown:
        data, _ = picture_bytes(shop, job, picture.hash)
        if not data.startswith(_JPEG) or len(data) > LARGEST_ON_PAPER or not can_be_drawn(data):
            right = f"a whole JPEG of at most {LARGEST_ON_PAPER / 1e6:g} MB: with scripts on, this page makes it one"
            raise InputError("this picture is not fit for paper", "hand-over sheet", right)
        if sum(p.for_owner for p in pictures.values() if p.act != photo) >= MOST_ON_PAPER:
            right = "leave another one off first"
            raise InputError(f"{MOST_ON_PAPER} pictures are on the sheet already", "hand-over sheet", right)
    return shop.do(job, "photo-for-owner", {"photo": photo, "shown": shown}, act_id=act_id, based_on=based_on, by=by)


def pictures_for_owner(shop: Shop, record: JobRecord) -> tuple[tuple[Picture, bytes], ...]:
    """The pictures that go on the owner's sheet with their bytes, in the order they were taken."""
    found = []
    for picture in reversed(pictures_of(record)):
        blob = shop.store.get_blob(picture.hash) if picture.for_owner else None
        if blob is not None:
            found.append((picture, blob.data))
    return tuple(found)

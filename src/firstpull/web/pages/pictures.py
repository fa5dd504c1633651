"""Pictures: taken with the phone, kept with the job, shown to whoever opens it."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from firstpull.base.errors import FirstpullError, InputError
from firstpull.bench.find import undo
from firstpull.bench.pages.pictures import pictures_page
from firstpull.bench.picture_facts import LARGEST
from firstpull.bench.picturing import keep_picture, mark_for_owner, picture_bytes
from firstpull.web.forms import Fields
from firstpull.web.pages.find import how_of
from firstpull.web.render import error_list, onward, sheet

router = APIRouter(include_in_schema=False)
# What another program makes of the bytes is its own affair: no page, no script, nothing fetched.
ALONE = {"Content-Security-Policy": "default-src 'none'; sandbox", "X-Content-Type-Options": "nosniff",
         "Cache-Control": "private, max-age=86400, immutable"}


@router.get("/job/{job}/pictures")
def show(request: Request, job: str) -> HTMLResponse:
    """The pictures of a job, and a way to take one."""
    return _shown(request, job, [])


@router.post("/job/{job}/pictures")
async def take(request: Request, job: str) -> Response:
    """Keep one picture."""
    fields: dict[str, str] = {}
    data = b""
    form = await request.form(max_files=1, max_fields=10)
    for key, value in form.multi_items():
        if isinstance(value, UploadFile):
            data = await value.read(LARGEST + 1)
        else:
            fields[key] = value[:4000]
    return await _kept(request, job, data, fields)


async def _kept(request: Request, job: str, data: bytes, fields: dict[str, str]) -> Response:
    def keep() -> Response:
        try:
            keep_picture(request.app.state.shop, job, data, fields.get("caption", ""), **how_of(request, fields))
        except FirstpullError as error:
            return _shown(request, job, error_list(error), 422)
        return onward(request, f"/job/{job}/pictures")

    return await run_in_threadpool(keep)


@router.post("/job/{job}/pictures/away")
def take_away(request: Request, job: str, fields: Fields) -> Response:
    """Take one picture off the pages of its job.

    Raises:
        InputError: the job has no such picture.
    """
    shop = request.app.state.shop
    act = fields.get("undone", "")
    if act not in {shown.act for shown in pictures_page(shop, job).pictures}:
        raise InputError("no such picture", f"job {job}", "one of those on its page")
    undo(shop, job, act, **how_of(request, fields))
    return onward(request, f"/job/{job}/pictures")


@router.post("/job/{job}/pictures/owner")
def for_owner(request: Request, job: str, fields: Fields) -> Response:
    """Have one picture go on the owner's sheet, or no longer."""
    shop = request.app.state.shop
    try:
        mark_for_owner(shop, job, fields.get("photo", ""), fields.get("shown") == "1", **how_of(request, fields))
    except FirstpullError as error:
        return _shown(request, job, error_list(error), 422)
    return onward(request, f"/job/{job}/pictures")


@router.get("/job/{job}/pictures/{key}")
def send(request: Request, job: str, key: str) -> Response:
    """The bytes of one picture."""
    data, type_ = picture_bytes(request.app.state.shop, job, key)
    return Response(data, media_type=type_, headers=ALONE)


def _shown(request: Request, job: str, errors: list[dict[str, str]], status: int = 200) -> HTMLResponse:
    return sheet(request, "pictures.html", status, model=pictures_page(request.app.state.shop, job), errors=errors)

"""Reads a printed sheet back: its lettering, its tags, and what it was handed."""

import io
import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from pathlib import Path

import pypdf
import pytest
import zxingcpp
from PIL import Image
from pypdf.generic import DictionaryObject

# Names of shapes and kinds, the language, the square code, and sums that only show when a page turns.
NOT_LETTERED = {"verdict", "kind", "lang", "link", "running"}


def read(pdf: bytes) -> pypdf.PdfReader:
    """The printed sheet, opened."""
    return pypdf.PdfReader(io.BytesIO(pdf))


def bare(text: str) -> str:
    """A text without the spaces and break marks that setting it in lines moves about."""
    return re.sub(r"[\s\u200b\xad]+", "", text)


def lettering(pdf: bytes) -> str:
    """All lettering of a printed sheet, without spaces."""
    return bare("".join(page.extract_text() for page in read(pdf).pages))


def texts_of(value: object) -> Iterator[str]:
    """Every text a sheet was handed that must show as lettering."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from texts_of(item)
    elif is_dataclass(value):
        for field in fields(value):
            if field.name not in NOT_LETTERED:
                yield from texts_of(getattr(value, field.name))


def tags(pdf: bytes) -> set[str]:
    """The kinds of structure element in a tagged PDF."""
    return {str(item["/S"]) for item in elements(pdf) if "/S" in item}


def alternatives(pdf: bytes) -> list[str]:
    """What is said in place of each picture to whoever cannot see it."""
    return [str(item["/Alt"]) for item in elements(pdf) if item.get("/S") == "/Figure"]


def elements(pdf: bytes) -> list[DictionaryObject]:
    """All structure elements of a tagged PDF, in the order they are read."""
    found: list[DictionaryObject] = []
    waiting: list[object] = [read(pdf).root_object["/StructTreeRoot"]]
    while waiting:
        item = waiting.pop()
        item = item.get_object() if hasattr(item, "get_object") else item
        if isinstance(item, DictionaryObject):
            found.append(item)
            kids = item.get("/K")
            kids = kids.get_object() if kids is not None else []
            waiting += reversed(kids) if isinstance(kids, list) else [kids]
    return found


def photographed(pdf: bytes, folder: Path, dots: int = 40) -> Image.Image:
    """The first page as a grey picture with so many dots an inch."""
    tool = shutil.which("pdftoppm")
    if tool is None:
        if os.environ.get("CI") == "true":
            pytest.fail("pdftoppm is not installed, and on the build machine it must be")
        pytest.skip("pdftoppm is not installed: looks are not compared")
    (folder / "sheet.pdf").write_bytes(pdf)
    subprocess.run(
        [tool, "-r", str(dots), "-gray", "-png", "-singlefile", "-f", "1", "-l", "1", "sheet.pdf", "sheet"],
        cwd=folder,
        check=True,
    )
    with Image.open(folder / "sheet.png") as picture:
        return picture.convert("L")


def codes_in(picture: Image.Image) -> list[str]:
    """What the square codes in a picture say."""
    return [code.text for code in zxingcpp.read_barcodes(picture)]

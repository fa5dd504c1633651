"""Runs the typesetter on one of our templates, and finds out which letters no font at hand can draw."""

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import typst

from firstpull.paper import letters

_HERE = Path(__file__).parent
_TEMPLATES = _HERE / "templates"


class LettersLacking(Exception):
    """The typesetter met letters that no font it was given can draw."""

    def __init__(self, lacking: set[str]) -> None:
        self.lacking = lacking
        super().__init__(f"no font draws {len(lacking)} letters")


class TypesetterFell(Exception):
    """The typesetter itself broke on a text."""


def typeset(template: str, inputs: Mapping[str, str], system_fonts: bool) -> bytes:
    """One template filled in, as PDF/UA-1; the date inside is fixed so that the bytes depend on nothing else.

    Raises:
        LettersLacking: if a letter cannot be drawn.
        TypesetterFell: if the typesetter broke, which it does on some rare mixtures of scripts.
    """
    try:
        made = typst.compile(
            str(_TEMPLATES / f"{template}.typ"),
            root=str(_TEMPLATES),
            font_paths=_fonts(system_fonts),
            format="pdf",
            pdf_standards=["ua-1"],
            timestamp=0,
            sys_inputs=dict(inputs),
        )
    except typst.TypstError as error:
        lacking = letters.refused_letters(str(error))
        if not lacking:
            raise
        raise LettersLacking(lacking) from error
    except BaseException as error:
        # The typesetter's own crash on some rare mixtures of scripts is no Exception, and its class has no public name.
        if type(error).__name__ != "PanicException":
            raise
        raise TypesetterFell(str(error)) from error
    if not isinstance(made, bytes):
        raise TypeError("one document was asked for and several came back")
    return made


def can_be_drawn(jpeg: bytes) -> bool:
    """Whether the typesetter can draw a photo."""
    try:
        typeset("photo", {"photo": json.dumps(list(jpeg))}, False)
    except typst.TypstError:
        return False
    return True


def lacking_in(text: str) -> set[str]:
    """Those letters of a text that no font on this machine draws.

    A letter is asked alone, and a mark together with the letter it stands on. What was asked once is remembered, so
    that a script without a font costs one short run a letter the first time, and nothing after.
    """
    found = set(letters.clusters(text))
    lacking = _not_drawn({cluster[0] for cluster in found})
    marked = {cluster for cluster in found if len(cluster) > 1 and cluster[0] not in lacking}
    return lacking.union(*(cluster[1:] for cluster in _not_drawn(marked)))


def _not_drawn(asked: set[str]) -> set[str]:
    """Those of some short texts that cannot be drawn: asked by the handful, and one by one where a handful fails."""
    new = sorted(text for text in asked - _drawn - _blank if text > "~")
    for start in range(0, len(new), _HANDFUL):
        some = new[start : start + _HANDFUL]
        if _draws("\n".join(some)):
            _drawn.update(some)
            continue
        for text in some:
            (_drawn if _draws(text) else _blank).add(text)
    return asked & _blank


def _draws(text: str) -> bool:
    """Whether the fonts at hand draw all of a text."""
    try:
        typeset("probe", {"letters": text}, True)
    except LettersLacking:
        return False
    return True


_HANDFUL = 32
_drawn: set[str] = set()
_blank: set[str] = set()


@cache
def _fonts(system_fonts: bool) -> typst.Fonts:
    """The lettering that comes with the tool and the typesetter; with the system's own where that is not enough."""
    return typst.Fonts(include_system_fonts=system_fonts, font_paths=[str(_HERE / "fonts")])

"""Runs the typesetter on one of our templates, and finds out which letters no font at hand can draw."""

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


def lacking_in(text: str) -> set[str]:
    """Those letters of a text that no font on this machine draws.

    A letter is asked with the marks that stand on it. What was asked once is remembered, so that a script without
    a font costs one short run a letter the first time, and nothing after.
    """
    new = sorted(cluster for cluster in set(letters.clusters(text)) - _drawn if cluster > "~")
    lacking: set[str] = set()
    for start in range(0, len(new), _HANDFUL):
        some = new[start : start + _HANDFUL]
        if not any(cluster in _blank for cluster in some) and _draws("\n".join(some)):
            _drawn.update(some)
            continue
        for cluster in some:
            lacking |= _lacking_of(cluster)
    return lacking


def _lacking_of(cluster: str) -> set[str]:
    """What cannot be drawn of a letter with its marks: the letter if it fails alone, else the marks."""
    if cluster not in _blank and _draws(cluster):
        _drawn.add(cluster)
        return set()
    _blank.add(cluster)
    letter, marks = cluster[0], cluster[1:]
    return set(marks) if marks and not _lacking_of(letter) else {letter}


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

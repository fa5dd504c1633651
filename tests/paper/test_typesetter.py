"""The typesetter's limits are known and got round."""

from dataclasses import replace

import pytest

from firstpull import paper
from firstpull.paper import letters, typesetter
from tests.paper import harrow_vale_sheets as vale
from tests.paper.reading import bare, lettering

# Found by shrinking a random text: with typst 0.15 and the DejaVu fonts of a system at hand, this mixture of
# Cyrillic, Arabic, Syriac and boxes makes the typesetter crash when its words may break anywhere.
CRASHING = (
    "\u03df\u03e6\u03ed\u03f4\u03fb\u0402\u0409\u0410\u0417\u041e\u0425\u042c\u0433\u043a\u0441\u0448\u044f\u0456\u045d"
    "\u067f\u0686\u0694\u069b\u06a2\u06a9\u06b0\u06b7\u06be\u25a1\u06cc\u25a1\u06da\u06f6\u25a1\u25a1\u25a1\u25a1\u25a1"
    "\u25a1\u25a1\u25a1\u0735\u073c\u0743\u07d6\u0cc2"
)


def test_a_text_that_crashes_the_typesetter_still_prints() -> None:
    shown = lettering(paper.render(replace(vale.HAND_OVER, headline=CRASHING)))
    assert bare("Hand-over sheet") in shown
    assert all(letter in shown or f"U+{ord(letter):04X}" in shown for letter in "\u0402\u0409\u0410\u0417\u041e")


def test_letters_at_hand_are_not_called_lacking() -> None:
    assert typesetter.lacking_in("Orla Quince, Žofie, Ελένη, Кирилл, 0 to 9, °C, Ω, µ, –, …, □") == set()


def test_a_letter_is_lacking_whether_or_not_a_mark_stands_on_it() -> None:
    assert typesetter.lacking_in("a\U00010600\u0301b") >= {"\U00010600"}


def test_a_letter_no_font_has_is_complained_of() -> None:
    with pytest.raises(typesetter.LettersLacking) as caught:
        typesetter.typeset("probe", {"letters": "\U00010600"}, False)
    assert caught.value.lacking == {"\U00010600"}


def test_what_has_no_shape_is_told_from_layout() -> None:
    assert letters.shapeless("\x07")
    assert letters.shapeless("\ue123")
    assert not letters.shapeless("\n")
    assert not letters.shapeless("é")

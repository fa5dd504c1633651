"""A letter no font has is shown as a box and named, and nothing else is touched."""

from dataclasses import replace

from firstpull import paper
from firstpull.paper import letters
from tests.paper import harrow_vale_chart
from tests.paper import harrow_vale_sheets as vale
from tests.paper.reading import bare, lettering, tags

# Letters of Linear A (Unicode 7.0, U+10600 on): no font that comes with an operating system has them, from memory.
NOWHERE = "\U00010600\U00010601"


def named(text: str) -> str:
    """A hand-over sheet for an owner of this name, as lettering."""
    return lettering(paper.render(replace(vale.HAND_OVER, signers=(paper.Signer("Received by", text),))))


def test_latin_greek_and_cyrillic_names_need_no_other_font() -> None:
    shown = named("Žofie Łukasz Ελένη Кирилл Søren")
    assert bare("Žofie Łukasz Ελένη Кирилл Søren") in shown
    assert "fontslack" not in shown


def test_a_letter_no_font_has_is_a_box_and_its_number_stands_at_the_foot() -> None:
    shown = named(f"Orla {NOWHERE} Quince")
    assert bare("Orla □□ Quince") in shown
    assert bare("□□ = U+10600 U+10601") in shown


def test_a_lacking_letter_under_a_mark_is_named_as_well() -> None:
    shown = named("Qu\U00010600\u0301ince")
    assert "U+10600" in shown
    assert "□" in shown


def test_characters_without_a_shape_are_boxes_too() -> None:
    shown = named("Or\x00la \ue000 \ud800 Quince")
    assert bare("Or□la □ □ Quince") in shown
    assert all(number in shown for number in ("U+0000", "U+E000", "U+D800"))


def test_names_in_many_scripts_print_and_stay_tagged() -> None:
    names = "Ελένη Кирилл مريم נועה 中村太郎 ณัฐ हिन्दी ქეთი Անի 김민준 ኣበበ"
    pdf = paper.render(replace(vale.RETURNED, reason=names))
    assert "/H1" in tags(pdf)
    shown = lettering(pdf)
    for name in names.split():
        assert bare(name) in shown or "U+" in shown


def test_every_letter_of_a_long_foreign_text_is_kept_or_named() -> None:
    text = "".join(chr(code) for code in range(0x4E00, 0x4E40))
    shown = named(text)
    assert all(letter in shown or f"U+{ord(letter):04X}" in shown for letter in text)


def test_a_lacking_letter_on_a_chart_is_a_box_as_well() -> None:
    chart = replace(harrow_vale_chart.CHART, root=replace(harrow_vale_chart.NO_SPARK, title=f"Spark {NOWHERE}"))
    shown = lettering(paper.render(chart))
    assert bare("Spark □□") in shown
    assert "U+10600" in shown


def test_line_ends_of_any_system_are_line_ends() -> None:
    changed, notes = letters.boxed({"a": ["x\r\ny\rz\tq"]}, frozenset())
    assert changed == {"a": ["x\ny\nz\tq"]}
    assert notes == []


def test_a_mark_belongs_to_the_letter_it_stands_on() -> None:
    assert letters.clusters("ae\u0301x") == ["a", "e\u0301", "x"]


def test_a_typesetters_complaint_is_read_with_its_escapes() -> None:
    complaint = r'the text `"\u{1b}"` could not be displayed with a font, the text `"\""` could not be displayed'
    assert letters.refused_letters(complaint) == {"\x1b", '"'}

"""What was read stands on the strip of its check, and only while it counts."""

from __future__ import annotations

from firstpull.bench.find import enter, undo
from firstpull.bench.intake import Counter, take_in
from firstpull.bench.marking import marked
from firstpull.bench.shop import Shop
from firstpull.bench.strips import Strip


def blank(check: str, unit: str = "") -> Strip:
    return Strip(check, check, unit, (), (), (), (0.0, 1.0), (0.0, 1.0), ())


def test_a_number_is_marked_in_the_unit_of_the_check_until_it_is_withdrawn_or_mended(shop: Shop) -> None:
    job = take_in(shop, Counter("Bram", "0555", "won't start", "60", "walk-mower-ohv"), act_id="in", by="Wren")
    gap = blank("coil-gap", "mm")
    assert marked(shop, job, gap) == (gap, "")
    enter(shop, job, {"check": "coil-gap", "reading": "10 thou"}, act_id="a", based_on=1, by="Wren")
    strip, words = marked(shop, job, gap)
    assert strip.mark is not None
    assert abs(strip.mark - 0.254) < 1e-9
    assert words.endswith("10 thou")
    undo(shop, job, "a", act_id="u", based_on=2, by="Wren")
    assert marked(shop, job, gap)[0].mark is None


def test_a_word_is_marked_by_its_name_and_a_repair_makes_it_old(shop: Shop) -> None:
    job = take_in(shop, Counter("Bram", "0555", "won't start", "60", "walk-mower-ohv"), act_id="in", by="Wren")
    enter(shop, job, {"check": "spark-at-tester", "reading": "dark"}, act_id="a", based_on=1, by="Wren")
    strip, words = marked(shop, job, blank("spark-at-tester"))
    assert (strip.mark, strip.read) == (None, "dark")
    assert words.endswith("dark")
    enter(shop, job, {"repair": "renew-plug"}, act_id="b", based_on=2, by="Wren")
    assert marked(shop, job, blank("spark-at-tester"))[0].read == ""

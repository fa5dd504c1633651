"""What could be done next: every way of spinning, every varied item both ways, nothing that contradicts itself."""

from __future__ import annotations

from firstpull.handbook.book import Book
from firstpull.handbook.select import for_class
from firstpull.reasoning.options import arrangement_of, check_options, repair_option
from firstpull.safety.interlocks import judge
from firstpull.safety.state import at_rest


def test_the_tester_is_offered_by_rope_and_drill_with_the_stop_lead_on_and_off(book: Book) -> None:
    mower = for_class(book, "walk-mower-ohv")
    options = list(check_options(mower, mower.checks["spark-at-tester"]))
    assert {(o.drive, "stop-lead" in o.off) for o in options} >= {
        ("rope", False), ("rope", True), ("drill", False), ("drill", True),
    }
    assert all(not o.off & o.on for o in options)


def test_every_option_stands_on_its_own_feet_before_the_interlocks(book: Book) -> None:
    mower = for_class(book, "walk-mower-ohv")
    for check in mower.checks.values():
        for option in check_options(mower, check):
            state = at_rest(mower.access)
            state = state.with_moves([(i, "off") for i in option.off] + [(i, "on") for i in option.on])
            assert state.away == frozenset(
                i for i in (option.off | option.on) if not at_rest(mower.access).is_at(i, state.position(i))
            )
            assert judge(state.tokens, option.deed, mower.sizes) is not None


def test_a_repair_never_turns_the_engine(book: Book) -> None:
    mower = for_class(book, "walk-mower-ohv")
    assert {repair_option(mower, r).deed.motion for r in mower.repairs.values()} == {"still"}


def test_the_arrangement_holds_what_the_option_needs(book: Book) -> None:
    mower = for_class(book, "walk-mower-ohv")
    option = next(o for o in check_options(mower, mower.checks["spark-at-tester"]) if o.drive == "drill")
    place = arrangement_of(mower, option)
    assert {"plug", "shroud"} & place.off == {"plug"} | ({"shroud"} if "cover" in option.off else set())
    assert "tester-on-lead" in place.added

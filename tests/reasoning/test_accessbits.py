"""Access items as bits: what is away, what an option needs, what moving takes."""

from __future__ import annotations

from firstpull.bench.worldroom import WorldRoom
from firstpull.handbook.select import for_class
from firstpull.reasoning.accessbits import AccessBits
from firstpull.reasoning.options import check_options
from firstpull.safety.moves import plan_moves
from firstpull.safety.state import at_rest


def test_bits_stand_for_what_is_away_from_rest_and_back(room: WorldRoom) -> None:
    book = for_class(room.book, "walk-mower-ohv")
    bits = AccessBits(tuple(book.access), at_rest(book.access), book)
    for item in book.access:
        assert bits.away(bits.of(frozenset({item}))) == {item}
    assert bits.of(frozenset()) == 0


def test_an_option_needs_nothing_open_and_shut_at_once_and_costs_its_moves(room: WorldRoom) -> None:
    book = for_class(room.book, "walk-mower-ohv")
    state = at_rest(book.access)
    bits = AccessBits(tuple(book.access), state, book)
    options = [o for check in book.checks.values() for o in check_options(book, check)]
    assert options
    for option in options:
        assert bits.opened(option) & bits.shut(option) == 0
        moves = plan_moves(state, option.off, option.on, book.minutes)
        assert bits.minutes(option) == sum(m.minutes for m in moves)
        assert 0.0 <= bits.detour(option) <= bits.minutes(option)


def test_what_is_put_on_by_us_costs_its_fitting_first(room: WorldRoom) -> None:
    book = for_class(room.book, "walk-mower-ohv")
    bits = AccessBits(tuple(book.access), at_rest(book.access), book)
    for name, entry in book.access.items():
        off, on = book.minutes[name]
        assert bits.price(name) == ((on, off) if entry.added else (off, on))

"""Access items as bits, and what it takes to move from how the machine stands."""

from __future__ import annotations

from collections.abc import Sequence

from firstpull.handbook.select import ClassBook
from firstpull.reasoning.options import Option
from firstpull.safety.moves import plan_moves
from firstpull.safety.state import MachineState


class AccessBits:
    """Access items as bits: set means away from rest."""

    def __init__(self, items: Sequence[str], state: MachineState, book: ClassBook) -> None:
        self._bit = {item: 1 << i for i, item in enumerate(items)}
        self._added = {item: state.items[item].added for item in items}
        self._minutes: dict[tuple[frozenset[str], frozenset[str]], float] = {}
        self.state = state
        self._book = book

    def minutes(self, option: Option) -> float:
        """Minutes of all moves from how the machine stands now to how an option needs it.

        Args:
            option: what must be off and on [1], scalar.

        Returns:
            Hands-on minutes [min], scalar.

        Valid: options of the class.
        Source: sum over the planned moves.
        """
        key = (option.off, option.on)
        if key not in self._minutes:
            self._minutes[key] = sum(m.minutes for m in plan_moves(self.state, *key, self._book.minutes))
        return self._minutes[key]

    def of(self, away: frozenset[str]) -> int:
        """The bits of items that are away from rest.

        Args:
            away: items [1], scalar.

        Returns:
            A bit an item [1], scalar.

        Valid: items of the class.
        Source: definition.
        """
        return sum(self._bit[i] for i in away)

    def opened(self, option: Option) -> int:
        """What an option needs away from rest.

        Args:
            option: what must be off and on [1], scalar.

        Returns:
            A bit an item [1], scalar.

        Valid: options of the class.
        Source: definition.
        """
        return self.of(frozenset(i for i in option.off if not self._added[i]) | frozenset(
            i for i in option.on if self._added[i]))

    def shut(self, option: Option) -> int:
        """What an option needs at rest.

        Args:
            option: what must be off and on [1], scalar.

        Returns:
            A bit an item [1], scalar.

        Valid: options of the class.
        Source: definition.
        """
        return self.of(frozenset(i for i in option.on if not self._added[i]) | frozenset(
            i for i in option.off if self._added[i]))

    def price(self, item: str) -> tuple[float, float]:
        """What moving an item takes.

        Args:
            item: an item of the class [1], scalar.

        Returns:
            Minutes away from rest, and back [min], scalar each.

        Valid: items of the class.
        Source: the handbook.
        """
        off, on = self._book.minutes[item]
        return (on, off) if self._added[item] else (off, on)

    def away(self, mask: int) -> frozenset[str]:
        """The items whose bits are set.

        Args:
            mask: a bit an item [1], scalar.

        Returns:
            Items away from rest [1], scalar.

        Valid: bits of the class's items.
        Source: definition.
        """
        return frozenset(i for i, bit in self._bit.items() if mask & bit)

    def detour(self, option: Option) -> float:
        """Minutes beyond the bits for what must be moved on the way, from how the machine stands now.

        Args:
            option: what must be off and on [1], scalar.

        Returns:
            Minutes [min], scalar.

        Valid: options of the class.
        Source: planned moves less what the bits charge.
        """
        before = self.of(self.state.away)
        after = (before | self.opened(option)) & ~self.shut(option)
        direct = 0.0
        for item, bit in self._bit.items():
            out, back = self.price(item)
            direct += out if after & bit and not before & bit else back if before & bit and not after & bit else 0.0
        return max(0.0, self.minutes(option) - direct)

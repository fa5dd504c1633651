"""What is off, open, unplugged, drained or added at this moment, folded from access moves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from firstpull.handbook.entries import Access

Position = Literal["off", "on"]


@dataclass(frozen=True, slots=True)
class MachineState:
    """Every access item is at rest (parts on, added things off) unless it is named here.

    `away` holds items away from rest; `implied` those of them that nobody recorded but a reading implies;
    `said` the items whose position somebody recorded, whatever it was.
    """

    items: Mapping[str, Access]
    away: frozenset[str] = frozenset()
    said: frozenset[str] = frozenset()
    implied: frozenset[str] = frozenset()
    unknown: frozenset[str] = frozenset()
    hot: bool = False
    questions: tuple[str, ...] = field(default=())
    depths: dict[str, int] = field(default_factory=dict, compare=False, repr=False)  # worked out once for all moves

    def position(self, item: str) -> Position:
        """Whether an item is off or on now."""
        added = self.items[item].added
        return "on" if (item in self.away) == added else "off"

    def is_at(self, item: str, position: Position) -> bool:
        """Whether an item stands so; items this class does not have stand in nobody's way."""
        return item not in self.items or self.position(item) == position

    def moved(self, item: str, position: Position, implied: bool = False) -> MachineState:
        """The state after one move; unknown items are left to the caller to show."""
        if item not in self.items:
            return self
        away_from_rest = (position == "on") == self.items[item].added
        away = self.away | {item} if away_from_rest else self.away - {item}
        guessed = self.implied | {item} if implied and away_from_rest else self.implied - {item}
        said = self.said if implied else self.said | {item}
        return replace(self, away=away, said=said, implied=guessed, unknown=self.unknown - {item})

    def with_moves(self, moves: Iterable[tuple[str, Position]], implied: bool = False) -> MachineState:
        """The state after several moves, one after another."""
        state = self
        for item, position in moves:
            state = state.moved(item, position, implied)
        return state

    @property
    def off_tokens(self) -> frozenset[str]:
        """What is off, in the words of physics and interlocks."""
        return frozenset(t for i in self.away if not self.items[i].added for t in self.items[i].tokens)

    @property
    def added_tokens(self) -> frozenset[str]:
        """What is added, in the words of physics and interlocks."""
        return frozenset(t for i in self.away if self.items[i].added for t in self.items[i].tokens)

    @property
    def tokens(self) -> frozenset[str]:
        """Everything that is away from rest, in the words of physics and interlocks."""
        return self.off_tokens | self.added_tokens


def at_rest(items: Mapping[str, Access]) -> MachineState:
    """A machine as it was handed in: all of its own on, nothing of ours added."""
    return MachineState(dict(items))

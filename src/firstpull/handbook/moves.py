"""Whether every access item can be moved and put back, given what must come first."""

from __future__ import annotations

from collections.abc import Mapping

from firstpull.handbook.entries import Access

_ENOUGH = 20_000


def stuck(access: Mapping[str, Access]) -> list[str]:
    """Items that cannot leave their first place, or cannot come back to it, in any order of moves.

    A job begins with everything that belongs to the machine on and everything that is added off.
    """
    return [name for name in access if not _goes_and_returns(access, name)]


def _goes_and_returns(access: Mapping[str, Access], name: str) -> bool:
    group = _closure(access, name)
    seen = {frozenset[str]()}
    waiting = [frozenset[str]()]
    gone = False
    while waiting:
        moved = waiting.pop(0)
        for item in group:
            if _may_move(access, item, moved):
                after = moved ^ {item}
                gone = gone or item == name
                if after not in seen and len(seen) < _ENOUGH:
                    seen.add(after)
                    waiting.append(after)
    return gone and any(_may_move(access, name, moved) for moved in seen if name in moved)


def _closure(access: Mapping[str, Access], name: str) -> list[str]:
    group = [name]
    for item in group:
        first = access[item].first
        group += [other for other in (*first.off, *first.on) if other in access and other not in group]
    return group


def _may_move(access: Mapping[str, Access], item: str, moved: frozenset[str]) -> bool:
    def is_off(other: str) -> bool:
        return (other in moved) != access[other].added

    first = access[item].first
    return all(is_off(other) for other in first.off if other in access) and not any(
        is_off(other) for other in first.on if other in access
    )

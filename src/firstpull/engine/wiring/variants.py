"""The same machines in a neighbouring arrangement, keeping what that neighbour cannot change."""

from __future__ import annotations

from dataclasses import replace

from firstpull.engine.machine import Machine
from firstpull.engine.vocabulary.types import Arrangement, Choke, Load

_BASES = ("main_base_phi", "idle_base_phi", "overflow", "main_free", "idle_free", "bowl_ready", "jet_covered")


def kept(m: Machine, arrangement: Arrangement, names: tuple[str, ...]) -> Machine:
    """These machines in another arrangement; the named quantities are taken over as they are."""
    if arrangement == m.arrangement:
        return m
    return replace(m, arrangement=arrangement, _known={name: m.quantity(name) for name in names})


def with_choke(m: Machine, choke: Choke) -> Machine:
    """Another choke: jets, leaks and bowl stay as they are."""
    return kept(m, replace(m.arrangement, choke=choke), _BASES)


def at_load(m: Machine, load: Load) -> Machine:
    """Another load: what the engine can give stays as it is, its heat included."""
    return kept(m, replace(m.arrangement, load=load), ("full_strength", "run_mixture_phi", "idle_mixture_phi"))


def hot(m: Machine) -> Machine:
    """Hot-soaked or warmed up."""
    return kept(m, replace(m.arrangement, thermal="hot"), ())


def without(m: Machine, token: str) -> Machine:
    """One more thing off."""
    return kept(m, replace(m.arrangement, off=m.arrangement.off | {token}), ())

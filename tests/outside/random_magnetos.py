"""Machines drawn from the healthy population with one ignition fault in most, for both models of the magneto."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from firstpull.base.draws import uniform
from firstpull.base.spread import Spread
from firstpull.engine import constants, ignition, magneto
from firstpull.engine.vocabulary import PARAMETERS
from tests.outside.transistor_deck import DeckMachine

FloatArray = NDArray[np.float64]
ASKED_KV = 8.0  # about 0.7 mm at 5 bar and 480 K
_TURNS, _REMANENCE = 120.0, 0.38
_DRAWN = (
    "air_gap_mm", "magnet_rust_mm", "magnet_strength", "primary_ohm", "secondary_ohm", "turns_ratio", "secondary_pf",
    "core_loss_mohm", "shorted_share", "stop_lead_ohm", "plug_fouling_ohm", "lead_leak_ohm", "trigger_current_a",
    "primary_joint_ohm",
)  # fmt: skip
_FAULTS: tuple[tuple[str, Spread], ...] = (
    ("air_gap_mm", Spread("uniform", 0.15, 0.40)),  # healthy
    ("air_gap_mm", Spread("uniform", 0.15, 0.40)),
    ("air_gap_mm", Spread("uniform", 0.6, 1.2)),
    ("magnet_strength", Spread("uniform", 0.6, 0.85)),
    ("stop_lead_ohm", Spread("log-uniform", 5.0, 500.0)),
    ("stop_lead_ohm", Spread("log-uniform", 500.0, 20000.0)),
    ("shorted_share", Spread("log-uniform", 0.002, 0.1)),
    ("plug_fouling_ohm", Spread("log-uniform", 5e4, 2e6)),
    ("lead_leak_ohm", Spread("log-uniform", 1e5, 2e6)),
    ("primary_joint_ohm", Spread("log-uniform", 0.3, 3.0)),
)


@dataclass(frozen=True, slots=True)
class Magnetos:
    """Drawn machines as parameter arrays, with the speed of each."""

    values: dict[str, FloatArray]
    rpm: FloatArray

    def primary(self) -> magneto.Primary:
        """For the reduced model."""
        v = self.values
        flux, inductance = magneto.core_flux_and_inductance(
            v["air_gap_mm"] + v["magnet_rust_mm"], v["magnet_strength"], np.full(1, _REMANENCE), _TURNS
        )
        return magneto.Primary(
            flux, inductance, v["primary_ohm"] + v["primary_joint_ohm"], v["stop_lead_ohm"],
            np.full(1, constants.value("trigger_on_v")), np.full(1, constants.value("trigger_on_ohm")),
            v["trigger_current_a"], np.zeros(1), np.zeros(1), _TURNS,
        )  # fmt: skip

    def reduced_kv(self) -> tuple[FloatArray, FloatArray]:
        """Peak kilovolts and break angle by the reduced model."""
        v = self.values
        primary = self.primary()
        cut = magneto.break_of(primary, self.rpm, magneto.edge(90.0))
        one = np.ones(1)
        coil = ignition.Secondary(
            v["turns_ratio"], primary.inductance_h, primary.resistance_ohm, v["secondary_ohm"],
            v["secondary_pf"] * 1e-12, one * 22e-9, v["core_loss_mohm"] * 1e6, v["shorted_share"],
            v["stop_lead_ohm"], v["plug_fouling_ohm"], v["lead_leak_ohm"], one * constants.value("clamp_v"),
            one / (1 / 1200.0 + 1 / 22000.0),
        )  # fmt: skip
        return ignition.open_circuit_kv(coil, cut), cut.angle_deg

    def deck_machine(self, index: int) -> DeckMachine:
        """The same machine for the circuit simulator."""
        v = {name: float(values[index]) for name, values in self.values.items()}
        primary = self.primary()
        return DeckMachine(
            rpm=float(self.rpm[index]), flux_wb=float(primary.flux_wb[index]),
            primary_h=float(primary.inductance_h[index]), primary_turns=_TURNS,
            primary_ohm=v["primary_ohm"] + v["primary_joint_ohm"], turns_ratio=v["turns_ratio"],
            secondary_ohm=v["secondary_ohm"], secondary_f=v["secondary_pf"] * 1e-12,
            core_loss_ohm=v["core_loss_mohm"] * 1e6, shorted=v["shorted_share"], stop_ohm=v["stop_lead_ohm"],
            fouling_ohm=v["plug_fouling_ohm"], lead_leak_ohm=v["lead_leak_ohm"], trigger_a=v["trigger_current_a"],
        )  # fmt: skip


def draw(count: int, seed: str) -> Magnetos:
    """Machines of this seed; the same ones on every platform."""
    values = {name: PARAMETERS[name].healthy.quantile(uniform((seed, name), count)) for name in _DRAWN}
    which = np.minimum((uniform((seed, "fault"), count) * len(_FAULTS)).astype(int), len(_FAULTS) - 1)
    for number, (name, spread) in enumerate(_FAULTS):
        faulty = spread.quantile(uniform((seed, "extent", number), count))
        values[name] = np.where(which == number, faulty, values[name])
    rpm = np.exp(np.log(220.0) + uniform((seed, "rpm"), count) * np.log(3600.0 / 220.0))
    return Magnetos(values, rpm)

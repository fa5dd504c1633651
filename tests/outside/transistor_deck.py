"""A flywheel magneto as a transistor-level circuit for ngspice, which decides by itself when to break.

Shared with the model under test: the flux curve, the primary inductance and the component values of a machine. Not
shared: everything that the reduction leaves out or assumes - two Darlington transistors that turn on as the emf
rises, an emitter sense resistor with an R-C behind it, a two-transistor latch that takes the base current away, a
snubber, a clamp, coupled windings with leakage, a shorted ring as a third winding, capacitance at both ends of the
secondary resistance. The circuit is our own drawing of a common kind; no maker's module was copied.
"""

from __future__ import annotations

import re
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

from firstpull.engine.magneto import Edge


@dataclass(frozen=True, slots=True)
class DeckMachine:
    """One machine: SI units, speed in rpm, shorted as a share of the secondary turns."""

    rpm: float
    flux_wb: float
    primary_h: float
    primary_turns: float
    primary_ohm: float
    turns_ratio: float
    secondary_ohm: float
    secondary_f: float
    core_loss_ohm: float
    shorted: float
    stop_ohm: float
    fouling_ohm: float
    lead_leak_ohm: float
    trigger_a: float


# Sense voltage over the trigger current; set once so that a nominal machine breaks at its nominal current.
_SENSE_V = 0.4696
_CIRCUIT = """* flywheel magneto, self-triggered
.param pi2=6.283185307
Bx x 0 V = {start} + {speed}*time
Ba a 0 V = (1-tanh((v(x)+{edge})/{width})^2) - (1-tanh((v(x)-{edge})/{width})^2)
Bo o 0 V = (1-tanh((v(x)+{outer})/{outer_width})^2) - (1-tanh((v(x)-{outer})/{outer_width})^2)
Be e 0 V = {gain}*((1+{lobe})*0.5/{width}*v(a) - {lobe}*0.5/{outer_width}*v(o))
R1 e p {primary_ohm}
L1 p c {primary_h}
Rstop c 0 {stop_ohm}
* Darlington switch with its base fed from its own collector, and the emitter sense resistor
Rb c b 1200
Q1 c b d QDRIVE
Q2 c d s QPOWER
Rdd d s 68
Rs s 0 {sense_ohm}
* delay and latch: Q3 and Q4 hold each other and take the base current away
Rf s f 1000
Cf f 0 0.15u
Rh c f 22k
Q3 g f 0 QLATN
Q4 f g b QLATP
Rg b g 4700
* snubber and clamp
Rsn c sn 120
Csn sn 0 22n
Dblock c z DBLOCK
Dz 0 z DCLAMP
* secondary: emf, leaky coupling, winding resistance between two halves of the capacitance
Be2 e2 0 V = {ratio}*v(e)
L2 e2 h {secondary_h}
K12 L1 L2 0.975
Ch h 0 {half_f}
Rfe h 0 {core_loss_ohm}
R2 h out {secondary_ohm}
Co out 0 {half_f}
Rfoul out 0 {fouling_ohm}
Rlead out 0 {lead_leak_ohm}
{ring}
.model QDRIVE NPN(IS=2e-14 BF=120 RB=5 CJE=50p CJC=20p TF=4n)
.model QPOWER NPN(IS=2e-12 BF=60 RB=0.5 RC=0.05 CJE=300p CJC=80p TF=8n)
.model QLATN NPN(IS=4e-14 BF=150 RB=1 RC=0.2 CJE=20p CJC=10p TF=1n)
.model QLATP PNP(IS=4e-14 BF=80 RB=1 RC=0.2 CJE=20p CJC=10p TF=2n)
.model DBLOCK D(IS=1e-12 N=1 CJO=5p)
.model DCLAMP D(IS=1e-14 BV=349 IBV=1m RS=1)
.options reltol=1e-3 abstol=1e-9 vntol=1e-5 method=gear
.tran {step} {stop} 0 {step} uic
.meas tran top MAX v(out)
.meas tran most MAX i(L1)
.meas tran carried FIND i(L1) WHEN v(c)={flag} RISE=1
.meas tran opened WHEN v(c)={flag} RISE=1
.end
"""
_RING = """Be3 e3 0 V = {share}*v(e)
L3 e3 r {ring_h}
Rring r 0 {ring_ohm}
K13 L1 L3 0.975
K23 L2 L3 0.985
"""


def deck(machine: DeckMachine, shape: Edge) -> str:
    """The circuit of one machine as text."""
    speed = 6.0 * machine.rpm
    begin = -shape.edge - 4.0 * shape.width
    ratio = machine.turns_ratio * (1.0 - machine.shorted)
    ring = ""
    if machine.shorted > 0.0:
        share = machine.turns_ratio * machine.shorted
        ring = _RING.format(
            share=share,
            ring_h=share**2 * machine.primary_h,
            ring_ohm=machine.shorted * machine.secondary_ohm,
        )
    stop = (-begin) / speed + 250e-6
    return _CIRCUIT.format(
        start=begin, speed=speed, edge=shape.edge, width=shape.width, outer=shape.outer,
        outer_width=shape.outer_width, lobe=shape.reversed_lobe,
        gain=machine.primary_turns * machine.flux_wb * speed, primary_ohm=machine.primary_ohm,
        primary_h=machine.primary_h, stop_ohm=machine.stop_ohm, ratio=ratio,
        secondary_h=ratio**2 * machine.primary_h, half_f=0.5 * machine.secondary_f,
        core_loss_ohm=machine.core_loss_ohm, secondary_ohm=machine.secondary_ohm, fouling_ohm=machine.fouling_ohm,
        lead_leak_ohm=machine.lead_leak_ohm, ring=ring,
        sense_ohm=_SENSE_V / machine.trigger_a, step=2e-6, stop=stop, flag=30.0,
    )  # fmt: skip


def run(machine: DeckMachine, shape: Edge) -> dict[str, float]:
    """What the circuit did.

    `kv` peak secondary voltage, `most_a` largest primary current; `a` current and `deg` crank angle at the break,
    absent when it never opened.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "magneto.cir"
        path.write_text(deck(machine, shape))
        done = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True, check=False, timeout=60)
    lines = re.findall(r"^(top|most|carried|opened)\s*=\s*([-+0-9.eE]+)", done.stdout, re.M)
    found = {key: float(text) for key, text in lines}
    if "top" not in found:
        raise RuntimeError(done.stdout[-2000:] + done.stderr[-2000:])
    result = {"kv": found["top"] * 1e-3, "most_a": found["most"]}
    if "opened" in found:
        result["a"] = found["carried"]
        result["deg"] = -shape.edge - 4.0 * shape.width + 6.0 * machine.rpm * found["opened"]
    return result

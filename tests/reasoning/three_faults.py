"""A handbook of three faults whose variants are all alike, and its chances written down a second time by hand.

Fault "rope" always shows, "coil" shows in two tries of five, "boot" only when hot; "rope" can bring on "boot".
"""

from __future__ import annotations

import math

from firstpull.reasoning.weigh import Scales
from tests.reasoning.enumeration import Faults, Nature
from tests.reasoning.handbook import Made, entry, fault, look, scales_of

PLACES = {"rope": "rope_wear", "coil": "coil_feet_rust", "boot": "boot_loose"}
RATES = {"rope": 20.0, "coil": 10.0, "boot": 15.0}
DUTY = 0.4
COMMON, FACTOR = 0.2, 3.0
TAKES = {"mend-rope": 0.8, "mend-coil": 0.9}
HEARD, FALSE_ALARM = 0.9, 0.05
CHAIN = 0.15
SLIP_POSSIBLE, ASKED_AGAIN, FALSE_LOOK, SCATTER = 0.004, 0.3, 0.02, 0.2


def entries() -> list[Made]:
    """Faults, a look at each, repairs of two, a complaint that reads the coil, cold and hot, and a told fact."""
    looks = [look(f"see-{f}", p, {"good": 0.5, "bad": None}) for f, p in PLACES.items()]
    several = {"model": "eye-and-hand", "several": True, "scatter": SCATTER, "false_alarm": FALSE_LOOK,
               "outcomes": [{"id": f, "name": f, "from": 0.5, "reads": p} for f, p in PLACES.items()]}
    usual = {"from": 0.5, "scatter": 0.1, "heard": HEARD, "false_alarm": FALSE_ALARM}
    return [
        fault("rope", PLACES["rope"], RATES["rope"], brings=["boot"], told={"stood": FACTOR}),
        fault("coil", PLACES["coil"], RATES["coil"], duty=DUTY),
        fault("boot", PLACES["boot"], RATES["boot"], hot_above_c=60.0),
        *looks,
        entry("check", "see-all", reading=[several]),
        entry("repair", "mend-rope", cures=["rope"], takes=0.8, proof={"check": "see-rope", "outcomes": ["good"]}),
        entry("repair", "mend-coil", cures=["coil"], takes=0.9, proof={"check": "see-coil", "outcomes": ["good"]}),
        entry("complaint", "misses", reads=PLACES["coil"], **usual),
        entry("complaint", "dies-hot", reads=PLACES["boot"], thermal="hot", **usual),
        entry("complaint", "boot-cold", reads=PLACES["boot"], **usual),
        entry("told", "stood", common=COMMON),
    ]


def scales(extra: tuple[Made, ...] = (), count: int = 4) -> Scales:
    """Its likelihoods."""
    return scales_of([*entries(), *extra], count=count)


def states() -> dict[Faults, float]:
    """Healthy, each fault, and the pair that one brings on, with their odds."""
    odds = {f: r / 1000 / (1 - r / 1000) for f, r in RATES.items()}
    alone = {frozenset({f}): o for f, o in odds.items()}
    return {frozenset(): 1.0, **alone, frozenset({"rope", "boot"}): odds["rope"] * CHAIN / (1 - CHAIN)}


def nature() -> Nature:
    """The same for the enumeration."""
    return Nature(states(), {"coil": DUTY}, frozenset({"boot"}))


def phi(x: float) -> float:
    """The normal distribution."""
    return 0.5 * math.erfc(-x / math.sqrt(2))


def word(name: str, said: str, acting: Faults) -> float:
    """Chance of one word of the look at one place."""
    good = phi((0.5 - (name in acting)) / SCATTER)
    each = {"good": (1 - FALSE_LOOK) * good + FALSE_LOOK / 2, "bad": (1 - FALSE_LOOK) * (1 - good) + FALSE_LOOK / 2}
    mixed = ASKED_AGAIN * (1 - sum(c**3 for c in each.values()))
    if said == "not-possible":
        return SLIP_POSSIBLE
    return (mixed if said == "now-and-then" else each[said] * (1 - mixed)) * (1 - SLIP_POSSIBLE)


def places(named: Faults, acting: Faults) -> float:
    """Chance that these places are named and the others are not."""
    chance = 1.0
    for name in PLACES:
        seen = (1 - FALSE_LOOK) * phi(((name in acting) - 0.5) / SCATTER) + FALSE_LOOK / 2
        chance *= seen if name in named else 1 - seen
    return chance


def event(name: str, acting: Faults) -> float:
    """Chance that what a complaint is about is there to be noticed."""
    return phi(((name in acting) - 0.5) / 0.1)


def complained(name: str, holds: bool, acting: Faults, heard: float, false_alarm: float) -> float:
    """Chance that it is said, or not."""
    there = event(name, acting)
    said = heard * there + false_alarm * (1 - there)
    return said if holds else 1 - said


def told(answer: str, state: Faults) -> float:
    """Chance of an answer to the told question."""
    share = COMMON * (FACTOR if "rope" in state else 1.0)
    return {"yes": share, "no": 1 - share, "unknown": 1.0}[answer]

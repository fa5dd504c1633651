"""A handbook as small as it can be and still whole, to break in one place at a time."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from firstpull.base.errors import ManyErrors
from firstpull.handbook.read import load

SMALL = """\
system = "ignition"

[[machine]]
id = "mower"
name = "Mower"
source = "judgement"
worth = [50, 100, 200]
drawing = "mower"
phrases = ["push mower"]
sizes = { displacement_cm3 = 160, cycle = "four-stroke" }
[[machine.healthy]]
parameter = "air_gap_mm"
form = "normal"
mean = 0.25
sd = 0.02
source = "judgement"
[[machine.spec]]
id = "air-gap"
name = "Air gap"
unit = "mm"
low = 0.2
high = 0.3
standing = "judgement"
source = "judgement"

[[instrument]]
id = "tester"
name = "Spark tester"
source = "judgement"
[[instrument]]
id = "eye"
name = "Eye and hand"
source = "judgement"

[[caution]]
id = "shock"
text = "The lead can shock: hold the tester by its body."
source = "common practice, no source"

[[told]]
id = "other-work"
name = "Other work was done"
question = "Has somebody worked on it?"
source = "judgement"
phrases = ["another shop had it"]

[[complaint]]
id = "will-not-start"
name = "Will not start"
group = "will not start"
source = "judgement"
phrases = ["won't start", "dead"]
reads = "tester_margin"
below = 1
heard = 0.9
false_alarm = 0.01

[[access]]
id = "stop-lead"
name = "Stop lead"
source = "common practice, no source"
tokens = ["stop-lead"]
off_minutes = 1
on_minutes = 1.5
by_class = { mower = [2, 3] }

[[drive]]
id = "rope"
name = "The rope"
drive = "rope"
source = "common practice, no source"

[[fault]]
id = "lead-chafed"
name = "Stop lead chafed"
source = "judgement"
part = "stop-lead"
plain = "The stop lead touches metal."
numbers = ["F012"]
rate = { default = 8, mower = 10 }
draws = [{ parameter = "stop_lead_ohm", form = "log-uniform", low = 0.1, high = 20 }]
told = { other-work = 2 }

[[check]]
id = "spark"
name = "Spark at a tester"
source = "judgement"
part = "coil"
instrument = "tester"
minutes = 1
spins = true
varies = ["stop-lead"]
hazard = "spark"
cautions = ["shock"]
how = ["Tester on the lead, away from the plug hole.", "Pull."]
[[check.reading]]
model = "gauge"
reads = "tester_margin"
scatter = 0.1
outcomes = [
  { id = "dark", name = "dark", below = 1, also = ["no spark"] },
  { id = "lights", name = "lights every pull", from = 1 },
]

[[check]]
id = "look-at-lead"
name = "Look at the stop lead"
source = "judgement"
part = "stop-lead"
minutes = 2
how = ["Follow the lead."]
[[check.reading]]
model = "eye-and-hand"
reads = "stop_lead_chafe"
outcomes = [{ id = "whole", name = "whole", below = 0.3 }, { id = "chafed", name = "chafed", from = 0.3 }]

[[repair]]
id = "reroute"
name = "Reroute the stop lead"
source = "judgement"
part = "stop-lead"
cures = ["lead-chafed"]
renews = ["stop_lead_ohm"]
minutes = 10
how = ["Sleeve it and clip it away from metal."]
values = [{ id = "gap", name = "Air gap", unit = "mm", spec = "air-gap" }]
parts = [{ name = "sleeve", low = 1, usual = 2, high = 4 }]
proof = { check = "spark", outcomes = ["lights"] }
"""
SWAP = tuple[str, str]


class Shelf:
    """A folder for handbooks and own chapters."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.own = folder / "own.toml"
        self.small = folder / "book"
        self.small.mkdir()

    def write(self, *swaps: SWAP, add: str = "") -> Path:
        """The small handbook with some words swapped and something added at its end."""
        text = SMALL
        for old, new in swaps:
            assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the small handbook"
            text = text.replace(old, new)
        (self.small / "all.toml").write_text(text + add, encoding="utf-8")
        return self.small

    def add(self, text: str) -> Path:
        """An own chapter."""
        self.own.write_text(text, encoding="utf-8")
        return self.own


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path)


@pytest.fixture
def refusal(shelf: Shelf) -> Callable[..., str]:
    """What the reader says about the small handbook after one change; exactly one fault must be found."""

    def refused(*swaps: SWAP, add: str = "") -> str:
        folder = shelf.write(*swaps, add=add)
        with pytest.raises(ManyErrors) as caught:
            load(folder)
        assert len(caught.value.errors) == 1, str(caught.value)
        return str(caught.value)

    return refused

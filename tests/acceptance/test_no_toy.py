"""What a program that only pretends to reason would fail: renaming, physics, strangers, order."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from firstpull.bench.case import read_case
from firstpull.bench.stateless import reason, start
from firstpull.bench.worldroom import WorldRoom, open_room
from firstpull.engine import constants
from tests.acceptance.played import COIL, HELD, LEAD_OFF, STOP_CIRCUIT, at_tester, session, share
from tests.acceptance.renamed import Renamer

SOURCE = Path(__file__).resolve().parents[2] / "src" / "firstpull"
STEPS: list[dict[str, Any]] = [
    HELD,
    at_tester("dark", "rope"),
    LEAD_OFF,
    at_tester("lights", "drill"),
    {"check": "coil-gap", "reading": "0.3 mm"},
]


def _renamed_step(names: Renamer, step: dict[str, Any]) -> dict[str, Any]:
    done = dict(step)
    if "access" in step:
        done["access"] = names.to("access", step["access"])
    if "repair" in step:
        done["repair"] = names.to("repair", step["repair"])
    if "check" in step:
        done["check"] = names.to("check", step["check"])
        done["reading"] = names.to("outcome", step["reading"])
    return done


def test_renaming_every_id_and_emptying_every_text_changes_no_answer(room: WorldRoom) -> None:
    names = Renamer(room.book)
    other = WorldRoom(names.book)
    raw = {"machine": "walk-mower-ohv", "complaint": ["will-not-start"], "told": ["in-the-rain"], "step": STEPS}
    renamed = {
        "machine": names.to("machine", "walk-mower-ohv"),
        "complaint": [names.to("complaint", "will-not-start")],
        "told": [names.to("told", "in-the-rain")],
        "step": [_renamed_step(names, s) for s in STEPS],
    }
    here = reason(room, read_case(raw, room.book), 2)
    there = reason(other, read_case(renamed, other.book), 2)
    for fault, probability in here["fault_probability"].items():
        assert there["fault_probability"][names.to("fault", fault)] == pytest.approx(probability, abs=1e-12)
    for repair, probability in here["repair_probability"].items():
        assert there["repair_probability"][names.to("repair", repair)] == pytest.approx(probability, abs=1e-12)
    assert there["cost"]["minutes"]["expected"] == pytest.approx(here["cost"]["minutes"]["expected"], rel=1e-9)
    assert there["surprise"]["p_value"] == pytest.approx(here["surprise"]["p_value"], abs=0.01)


def test_no_fault_check_or_repair_is_named_in_the_program(room: WorldRoom) -> None:
    ids = {*room.book.faults, *room.book.checks, *room.book.repairs}
    quoted = re.compile(r"""["']([a-z0-9]+(?:-[a-z0-9]+)+)["']""")
    found = {
        (path.name, word)
        for path in SOURCE.rglob("*.py")
        for word in quoted.findall(path.read_text(encoding="utf-8"))
        if word in ids
    }
    assert found == set()


def test_readings_in_one_arrangement_commute(room: WorldRoom) -> None:
    looks = [
        {"check": "coil-gap", "reading": "0.3 mm"},
        {"check": "magnet-pull", "reading": "strong"},
        {"check": "coil-feet-look", "reading": "clean-and-tight"},
    ]
    first = [HELD, at_tester("dark", "rope"), LEAD_OFF]
    one = session(room, [*first, *looks]).belief().fault_probability
    two = session(room, [*first, *reversed(looks)]).belief().fault_probability
    assert np.allclose(list(one.values()), [two[f] for f in one], atol=1e-9)


def _coil_and_circuit(room: WorldRoom, steps: list[dict[str, Any]]) -> tuple[float, float]:
    probability = session(room, steps).belief().fault_probability
    return share(probability, COIL), share(probability, STOP_CIRCUIT)


def test_a_trigger_that_wants_more_volts_makes_dark_say_less_of_coil_and_circuit(room: WorldRoom) -> None:
    dark = [HELD, at_tester("dark", "rope")]
    before = sum(_coil_and_circuit(WorldRoom(room.book), dark))
    with constants.shifted({"trigger_on_v": 4.0}):
        after = sum(_coil_and_circuit(WorldRoom(room.book), dark))
    assert after < before - 0.02


def test_a_wider_tester_gap_makes_dark_say_less_of_the_coil(room: WorldRoom) -> None:
    usual = room.book.instruments["gap-tester"]
    wide = usual.model_copy(update={"setup": {**usual.setup, "tester_gap_mm": usual.setup["tester_gap_mm"] * 2.0}})
    book = _with_instrument(room, wide)
    dark = [HELD, at_tester("dark", "rope")]
    before = session(room, dark).belief().fault_probability
    after = session(WorldRoom(book), dark).belief().fault_probability
    assert share(after, (*COIL, *STOP_CIRCUIT)) < share(before, (*COIL, *STOP_CIRCUIT)) - 0.02


def _with_instrument(room: WorldRoom, instrument: Any) -> Any:
    from firstpull.handbook.book import SHELVES, make_book

    entries = {kind: dict(getattr(room.book, shelf)) for kind, shelf in SHELVES.items()}
    entries["instrument"][instrument.id] = instrument
    return make_book(entries)


def test_a_check_whose_parameter_has_no_effect_loses_its_information(room: WorldRoom) -> None:
    from firstpull.handbook.book import SHELVES, make_book

    entries = {kind: dict(getattr(room.book, shelf)) for kind, shelf in SHELVES.items()}
    entries["fault"] = {
        n: f.model_copy(update={"draws": tuple(d for d in f.draws if d.parameter != "air_gap_mm")})
        for n, f in room.book.faults.items()
    }
    blind = WorldRoom(make_book(entries))
    wide = [{"check": "coil-gap", "reading": "2.5 mm"}]

    def against_the_coil(where: WorldRoom, steps: list[dict[str, Any]]) -> float:
        probability = session(where, steps).belief().fault_probability
        return probability["air-gap-wide"] / probability["coil-dead"]

    assert against_the_coil(room, wide) > 20 * against_the_coil(room, [])
    assert against_the_coil(blind, wide) == pytest.approx(against_the_coil(blind, []), rel=0.1)


STRANGER = """
system = "ignition"

[[fault]]
id = "wasp-nest-on-magnet"
name = "Wasp nest between magnet and coil"
source = "invented for a test"
part = "coil"
rate = { default = 12 }
draws = [
  { parameter = "magnet_strength", form = "uniform", low = 0.3, high = 0.5 },
  { parameter = "air_gap_mm", form = "uniform", low = 0.9, high = 1.2 },
]
plain = "A nest holds the coil away from the magnet."

[[check]]
id = "nest-look"
name = "Nest under the cover?"
source = "invented for a test"
part = "coil"
minutes = 0.5
needs = { off = ["cover"] }
how = ["Look between coil and magnet."]
[[check.reading]]
model = "eye-and-hand"
reads = "air_gap_mm"
unit = "mm"
scatter = 0.05
outcomes = [{ id = "clear", name = "Clear", below = 0.7 }, { id = "nest", name = "A nest", from = 0.7 }]

[[repair]]
id = "take-nest-out"
name = "Take the nest out"
source = "invented for a test"
part = "coil"
cures = ["wasp-nest-on-magnet"]
renews = ["magnet_strength", "air_gap_mm"]
minutes = 3
needs = { off = ["cover"] }
proof = { check = "spark-at-tester", outcomes = ["lights"] }
how = ["Gloves. Take it out."]
"""


def test_a_fault_and_a_check_written_in_toml_alone_are_found_in_a_played_job(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text(STRANGER, encoding="utf-8")
    room = open_room(tmp_path)
    steps = [
        HELD,
        at_tester("dark", "rope"),
        LEAD_OFF,
        at_tester("dark", "drill"),
        {"check": "nest-look", "reading": "nest"},
    ]
    raw = {"machine": "walk-mower-ohv", "complaint": ["will-not-start"], "step": steps}
    job = start(room, read_case(raw, room.book), 2)
    assert job.belief().fault_probability["wasp-nest-on-magnet"] > 0.5
    assert "take-nest-out" in {s.id for s in job.advice().steps}

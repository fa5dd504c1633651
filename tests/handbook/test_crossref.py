"""Every kind of fault in a handbook is refused with what was found and what would be right."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Refusal = Callable[..., str]
READS = 'reads = "tester_margin"\nscatter'
DARK = '{ id = "dark", name = "dark", below = 1, also = ["no spark"] }'
LIGHTS = '{ id = "lights", name = "lights every pull", from = 1 }'
DRAW = 'draws = [{ parameter = "stop_lead_ohm", form = "log-uniform", low = 0.1, high = 20 }]'

DANGLING = [
    (
        "told of a fault",
        ("{ other-work = 2 }", "{ other-wrok = 2 }"),
        "'other-wrok' is not a told",
        "other-work",
    ),
    (
        "what a fault brings",
        ("told = {", 'brings = ["lead-chaffed"]\ntold = {'),
        "not a fault",
        "lead-chafed",
    ),
    ("class of a rate", ("mower = 10", "mowre = 10"), "'mowre' is not a machine class or default", "mower"),
    (
        "parameter of a draw",
        ('"stop_lead_ohm", form', '"stop_led_ohm", form'),
        "not a parameter",
        "stop_lead_ohm",
    ),
    (
        "observable of a gauge",
        (READS, READS.replace("margin", "margn")),
        "not an observable",
        "tester_margin",
    ),
    ("parameter of an eye", ('"stop_lead_chafe"', '"stop_lead_chaf"'), "not a parameter", "stop_lead_chafe"),
    ("instrument", ('instrument = "tester"', 'instrument = "testre"'), "not an instrument", "tester"),
    ("varied item", ('varies = ["stop-lead"]', 'varies = ["stop-laed"]'), "not an access", "stop-lead"),
    (
        "needed item",
        ("spins = true", 'spins = true\nneeds = { off = ["stoplead"] }'),
        "not an access",
        "stop-lead",
    ),
    (
        "wanted item",
        ("spins = true", 'spins = true\nwants = { on = ["stoplead"] }'),
        "not an access",
        "stop-lead",
    ),
    ("caution", ('cautions = ["shock"]', 'cautions = ["shok"]'), "'shok' is not a caution", "shock"),
    ("safer check", ("spins = true", 'spins = true\nsafer = ["look-at-led"]'), "not a check", "look-at-lead"),
    ("drive", ("spins = true", 'spins = true\ndrives = ["dril"]'), "not a drive of an engine", "drill"),
    ("cured fault", ('cures = ["lead-chafed"]', 'cures = ["lead-chafd"]'), "not a fault", "lead-chafed"),
    (
        "renewed parameter",
        ('renews = ["stop_lead_ohm"]', 'renews = ["stop_lead"]'),
        "not a parameter",
        "stop_lead_ohm",
    ),
    ("proof", ('check = "spark"', 'check = "sprak"'), "'sprak' is not a check", "spark"),
    (
        "proof outcome",
        ('outcomes = ["lights"]', 'outcomes = ["light"]'),
        "not an outcome of check 'spark'",
        "lights",
    ),
    ("spec of a value", ('spec = "air-gap"', 'spec = "airgap"'), "not a spec of any machine", "air-gap"),
    ("token", ('tokens = ["stop-lead"]', 'tokens = ["stop-leads"]'), "not a token", "stop-lead"),
    (
        "class of minutes",
        ("{ mower = [2, 3] }", "{ mover = [2, 3] }"),
        "'mover' is not a machine class",
        "mower",
    ),
    ("size", ("displacement_cm3 =", "displacment_cm3 ="), "not a size", "displacement_cm3"),
    ("healthy parameter", ('"air_gap_mm"', '"air_gap"'), "not a parameter", "air_gap_mm"),
    (
        "complaint",
        ('reads = "tester_margin"\nbelow', 'reads = "margin"\nbelow'),
        "not an observable",
        "tester_margin",
    ),
    ("trait", ("spins = true", 'spins = true\nonly = { cycles = ["four-stroke"] }'), "not a trait", "cycle"),
    (
        "word of a trait",
        ("spins = true", 'spins = true\nonly = { cycle = ["four"] }'),
        "not a word for cycle",
        "four-stroke",
    ),
]


@pytest.mark.parametrize(("swap", "found", "right"), [row[1:] for row in DANGLING], ids=[row[0] for row in DANGLING])
def test_a_reference_that_leads_nowhere_is_told_with_the_nearest_name(
    refusal: Refusal, swap: tuple[str, str], found: str, right: str
) -> None:
    said = refusal(swap)
    assert found in said
    assert right in said


UNFIT = [
    (
        "gap",
        (LIGHTS, LIGHTS.replace("= 1 ", "= 2 ")),
        "a gap between 'dark' below 1 and 'lights' from 2",
        "from = 1",
    ),
    ("overlap", (LIGHTS, LIGHTS.replace("= 1 ", "= 0.5 ")), "an overlap between 'dark'", "from = 1"),
    ("no border", (LIGHTS, LIGHTS.replace(", from = 1 ", " ")), "no border", "same number"),
    (
        "nothing below",
        (DARK, DARK.replace("below", "from = 0, below")),
        "nothing is said below 0",
        "no 'from'",
    ),
    (
        "nothing above",
        (LIGHTS, LIGHTS.replace("= 1 ", "= 1, below = 9 ")),
        "nothing is said from 9 up",
        "no 'below'",
    ),
    (
        "universal id",
        ('id = "dark"', 'id = "not-done"'),
        "'not-done' may be said of every check",
        "leave it out",
    ),
    ("unknown unit", (READS, 'unit = "volt s"\n' + READS), "'volt s' is not a unit", "one of"),
    (
        "low above high",
        ("low = 0.1, high = 20", "low = 20, high = 0.1"),
        "it runs from 20",
        "the smaller number first",
    ),
    ("beyond bounds", ("high = 20", "high = 1e15"), "stop_lead_ohm cannot be 1e+15", "to 1e+12 ohm"),
    ("healthy beyond bounds", ("mean = 0.25", "mean = -3"), "air_gap_mm cannot be -3", "from"),
    ("no draw", (DRAW, "draws = []"), "it moves no parameter", "at least one draw"),
    (
        "number of the list",
        ('["F012"]', '["F12"]'),
        "'F12' is not a number of the coverage list",
        "three digits",
    ),
    ("worth", ("[50, 100, 200]", "[50, 300, 200]"), "50, 300, 200 do not rise", "low first"),
    ("price", ("usual = 2,", "usual = 9,"), "1, 9, 4 do not rise", "low first"),
    ("spec", ("low = 0.2\n", "low = 0.4\n"), "0.4, 0.3 do not rise", "low first"),
    (
        "no figures held",
        ('standing = "judgement"', 'standing = "none held"'),
        "none held, with 2 figures",
        "no figures",
    ),
    (
        "hazard",
        ('cautions = ["shock"]', "cautions = []"),
        "hazard 'spark' and no caution",
        "before the first step",
    ),
    (
        "added",
        ('tokens = ["stop-lead"]', 'tokens = ["control-held"]'),
        "'control-held' is added by us",
        "added = true",
    ),
    (
        "word for a number",
        ("displacement_cm3 = 160", 'displacement_cm3 = "big"'),
        "cannot be 'big'",
        "a number [cm3]",
    ),
    ("size below zero", ("displacement_cm3 = 160", "displacement_cm3 = -1"), "cannot be -1", "zero or more"),
    (
        "word of a size",
        ('cycle = "four-stroke"', 'cycle = "six-stroke"'),
        "'six-stroke' is not a word for cycle",
        "two-stroke",
    ),
    (
        "unit of a value",
        ('unit = "mm", spec', 'unit = "V", spec'),
        "'V' is a voltage, and what is read is a length",
        "mm",
    ),
    (
        "unit of a spec",
        ('unit = "mm"\nlow', 'unit = "mmm"\nlow'),
        "'mmm' is not a unit",
        "did you mean 'mm'?",
    ),
    (
        "complaint that never speaks",
        ("below = 1\nheard", "heard"),
        "never says when it would be said",
        "'from', 'below'",
    ),
    (
        "off and on",
        ("spins = true", 'spins = true\nneeds.off = ["stop-lead"]\nwants.on = ["stop-lead"]'),
        "'stop-lead' would have to be off and on",
        "one of the two",
    ),
    (
        "stuck",
        ("by_class = {", 'first = { off = ["stop-lead"] }\nby_class = {'),
        "can never come about",
        "leave out",
    ),
    (
        "safer than itself",
        ("spins = true", 'spins = true\nsafer = ["spark"]'),
        "each is safer than the next",
        "leave out",
    ),
    (
        "proof of nothing",
        ('outcomes = ["lights"]', "outcomes = []"),
        "no outcome shows it cured",
        "at least one",
    ),
    ("nothing read", (READS, "scatter"), "'reads' is missing", "the observable or parameter"),
    (
        "relative healthy",
        ('form = "normal"\nmean = 0.25\nsd = 0.02', 'form = "scale"\nlow = 1\nhigh = 2'),
        "'scale' starts from a healthy value",
        "its own numbers",
    ),
]


@pytest.mark.parametrize(("swap", "found", "right"), [row[1:] for row in UNFIT], ids=[row[0] for row in UNFIT])
def test_what_does_not_fit_is_told_with_what_would(
    refusal: Refusal, swap: tuple[str, str], found: str, right: str
) -> None:
    said = refusal(swap)
    assert found in said
    assert right in said


def test_a_reading_in_a_unit_of_something_else_is_told_with_the_units_that_fit(refusal: Refusal) -> None:
    said = refusal((READS, 'unit = "psi"\n' + READS))
    assert "'psi' is a pressure, and what is read is a share" in said
    assert "one of %, 1" in said


def test_a_number_is_read_in_a_unit_that_its_instrument_measures(refusal: Refusal) -> None:
    said = refusal((READS, "number = true\n" + READS), ('name = "Spark tester"', 'name = "Spark tester"\nunit = "kV"'))
    assert "'1' is a share, and what is read is a voltage" in said


def test_readings_of_one_check_are_told_apart_by_their_keys(refusal: Refusal) -> None:
    second = '[[check.reading]]\nkey = "b"\nmodel = "eye-and-hand"\nreads = "stop_lead_chafe"\n'
    second += 'outcomes = [{ id = "x", name = "x" }]\n'
    said = refusal(('[[check]]\nid = "look', second + '[[check]]\nid = "look'))
    assert "one of several readings has no key" in said


def test_where_several_things_may_be_heard_each_reads_for_itself(refusal: Refusal) -> None:
    outcomes = ' = 0\nseveral = true\noutcomes = [{ id = "a", name = "a", reads = "tester_margin" }]\nunit = "1"\n#'
    rest = f"{READS} = 0.1\noutcomes = [\n  {DARK},\n  {LIGHTS},\n]"
    said = refusal((rest, "scatter" + outcomes), ('outcomes = ["lights"]', 'outcomes = ["a"]'))
    assert "outcome 'a' has no band" in said


def test_a_release_names_a_check_its_outcome_and_parts_that_are_worked_on(refusal: Refusal) -> None:
    release = '\n[[release]]\nid = "stops"\nname = "Stops"\nsource = "judgement"\ncheck = "spark"\noutcomes = ["{}"]\n'
    said = refusal(add=release.format("dark") + 'after_parts = ["stop-laed"]\n')
    assert "'stop-laed' is not a part that is worked on (did you mean 'stop-lead'?)" in said
    assert "'drak' is not an outcome" in refusal(add=release.format("drak"))


def test_items_that_wait_for_each_other_only_one_way_round_are_not_stuck(refusal: Refusal, shelf: object) -> None:
    lead = (
        '\n[[access]]\nid = "{}"\nname = "x"\nsource = "judgement"\ntokens = ["{}"]\noff_minutes = 1\non_minutes = 1\n'
    )
    plug = lead.format("plug", "plug") + 'first = { off = ["plug-lead"] }\n'
    there = lead.format("plug-lead", "plug-lead")
    said = refusal(add=plug + there + 'first = { on = ["plug"] }\ncautions = ["none"]\n')
    assert "'none' is not a caution" in said  # the only fault: plug and lead can both be moved

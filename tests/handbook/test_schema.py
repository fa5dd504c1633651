"""One entry from raw TOML: a frozen model, or everything that is wrong in plain words."""

from __future__ import annotations

import typing

from pydantic import BaseModel

from firstpull.handbook.entries import Fault
from firstpull.handbook.findings import dotted, nearest
from firstpull.handbook.schema import MODELS, known_keys, read_entry

FAULT = {
    "id": "a",
    "name": "A",
    "source": "judgement",
    "part": "plug",
    "plain": "It is.",
    "rate": {"default": 1},
    "draws": [{"parameter": "x", "form": "fixed", "value": 1}],
}


def test_a_right_entry_becomes_a_model_that_cannot_change() -> None:
    entry, findings = read_entry("fault", FAULT)
    assert findings == []
    assert isinstance(entry, Fault)
    assert entry.rate == {"default": 1.0}
    assert entry.model_config["frozen"]


def test_every_fault_of_an_entry_is_told_with_its_key() -> None:
    raw = {**FAULT, "rate": {"default": "x", "saw": -1}, "draws": [FAULT["draws"], {"form": "fixed"}], "dutty": 1}
    del raw["plain"]
    entry, findings = read_entry("fault", raw)
    assert entry is None
    assert sorted(dotted(finding.key) for finding in findings) == [
        "draws[0]",
        "draws[1].parameter",
        "dutty",
        "plain",
        "rate.default",
        "rate.saw",
    ]
    (unknown,) = [finding for finding in findings if finding.key == ("dutty",)]
    assert (unknown.what, unknown.right) == ("unknown key 'dutty'", "did you mean 'duty'?")


def test_an_array_of_wrong_elements_is_not_also_called_too_short() -> None:
    _, findings = read_entry("check", {"reading": [{"model": 1}]})
    assert not any(finding.key == ("reading",) for finding in findings)


def test_the_known_keys_of_inner_tables_are_those_that_toml_uses() -> None:
    assert "reading" in known_keys("check", ())
    assert "from" in known_keys("check", ("reading", 0, "outcomes", 3))
    assert "parameter" in known_keys("fault", ("draws", 0))
    assert known_keys("fault", ("nowhere",)) == ()


def test_only_a_repairs_proof_lets_a_key_name_faults_and_checks_in_one_entry() -> None:
    """A fault says nothing of checks and a check nothing of faults, in any table of any entry."""

    def words(model: type[BaseModel]) -> set[str]:
        found = set()
        for name, field in model.model_fields.items():
            found |= {field.alias or name}
            for inner in typing.get_args(field.annotation):
                if isinstance(inner, type) and issubclass(inner, BaseModel):
                    found |= words(inner)
        return found

    about_faults = {"cures", "brings", "fault", "faults"}
    about_checks = {"check", "checks", "safer", "proof"}
    both = {kind for kind, model in MODELS.items() if words(model) & about_faults and words(model) & about_checks}
    assert both == {"repair"}


def test_the_nearest_word_is_offered_or_a_few_that_share_a_part() -> None:
    known = {f"plug-{n}" for n in range(20)} | {"coil-gap", "stop-lead"}
    assert nearest("stop-laed", known) == "did you mean 'stop-lead'?"
    assert nearest("gap-of-something", known) == "one of coil-gap, ..."
    assert nearest("zzz", {"a", "b"}) == "one of a, b"
    assert nearest("zzz", set()) == "nothing of this kind is known"

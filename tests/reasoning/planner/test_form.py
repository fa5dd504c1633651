"""Small values of a document."""

from __future__ import annotations

from firstpull.reasoning.planner.form import Form, short


def test_complaints_pile_up_and_values_stay_usable() -> None:
    form = Form()
    assert form.number({"cost": "3"}, "cost", "proof") == 0.0
    assert form.amount(float("nan"), "here", "a number") == 0.0
    assert form.words({"fixes": [1]}, "fixes", "repairs[0]") == []
    assert form.text({}, "id", "repairs[0]").startswith("?")
    assert form.part({"proof": 3}, "proof") == {"cost": 0}
    form.unlike(["a", "b", "a"], "checks")
    assert [e.where for e in form.errors] == [
        "proof.cost",
        "here",
        "repairs[0].fixes",
        "repairs[0].id",
        "proof",
        "checks",
    ]
    assert all(e.what and e.right for e in form.errors)


def test_a_long_value_is_cut_in_a_message() -> None:
    assert len(short("x" * 500)) == 80
    assert short([1]) == "[1]"

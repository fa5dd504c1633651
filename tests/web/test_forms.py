"""Forms as texts, whatever is sent."""

from __future__ import annotations

import pytest

from firstpull.base.errors import InputError
from firstpull.web.forms import act_of, many, whole


@pytest.mark.parametrize(("text", "number"), [("7", 7), ("", 0), ("-3", 0), ("1e9", 0), ("٣", 0), ("9" * 12, 0)])
def test_a_hidden_number_that_is_none_counts_as_nothing_seen(text: str, number: int) -> None:
    assert whole({"based_on": text}, "based_on") == number


def test_what_was_chosen_several_times_is_a_list() -> None:
    assert many({"move": "cover=off\nstop-lead=off\n"}, "move") == ["cover=off", "stop-lead=off"]
    assert many({}, "move") == []


@pytest.mark.parametrize("act", ["", "x" * 101, "a\tb"])
def test_a_form_without_a_usable_act_id_is_refused(act: str) -> None:
    with pytest.raises(InputError, match="no act id"):
        act_of({"act": act})

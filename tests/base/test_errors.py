"""One root for every refusal."""

from __future__ import annotations

import pytest

from firstpull.base import errors


def test_a_refusal_says_what_was_wrong_where_and_what_would_be_right() -> None:
    refused = errors.InputError("'62' has no unit", "reading", "for example 62 psi")
    assert str(refused) == "reading: '62' has no unit (for example 62 psi)"
    assert refused.as_dict() == {"what": "'62' has no unit", "where": "reading", "right": "for example 62 psi"}


def test_missing_parts_leave_no_marks_behind() -> None:
    assert str(errors.FirstpullError("gone")) == "gone"


@pytest.mark.parametrize("kind", [errors.InputError, errors.HandbookError, errors.StorageError, errors.RefusedError])
def test_every_refusal_is_caught_by_the_root(kind: type[errors.FirstpullError]) -> None:
    with pytest.raises(errors.FirstpullError):
        raise kind("no")


def test_many_errors_are_shown_all_at_once_in_order() -> None:
    many = errors.ManyErrors([errors.HandbookError("first", "a.toml:3"), errors.HandbookError("second", "a.toml:9")])
    assert str(many).splitlines() == ["a.toml:3: first", "a.toml:9: second"]
    assert [error.what for error in many.errors] == ["first", "second"]

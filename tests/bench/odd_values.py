"""Values that no form sends and some script will: for tests that throw anything at a door."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

SCALARS: st.SearchStrategy[Any] = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=12),
    st.sampled_from(["dark", "lights", "62 psi", "1e999 kPa", "-0 mm", "0.3 mm", "nan mm", "", " ", "\ud800", 10**400]),
)
VALUES: st.SearchStrategy[Any] = st.recursive(
    SCALARS,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=8), inner, max_size=3)),
    max_leaves=6,
)

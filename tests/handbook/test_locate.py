"""The line of every key, checked against the standard reader on random documents."""

from __future__ import annotations

import tomllib

from hypothesis import given, settings
from hypothesis import strategies as st

from firstpull.handbook.findings import Key
from firstpull.handbook.locate import line_of, lines

KEYS = ["a", "b", "c-1", "2", '"a b"', '"\\u0061"', "'c.d'", '""', '"q\\"]#"', "a . b", 'b."x=y"', "true"]
PLAIN = ["1", "-0.5e3", "true", "inf", "1979-05-27 07:32:00", "07:32:00", "0xff"]
STRINGS = [
    '"x"',
    '""',
    "''",
    '"]#={}\\""',
    "'no \\ escape'",
    '"""\n[fake]\na = 1\n"""',
    "'''\n[[a]]\n'''",
    '""""q"""""',
    "'''it''s'''",
    '"""a\\\n   b\\"""c"""',
    '""""""',
]


def values() -> st.SearchStrategy[str]:
    leaves = st.sampled_from(PLAIN + STRINGS)
    gaps = st.sampled_from(["", " ", "\n", " # a, ]\n  ", "\r\n"])

    def larger(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
        items = st.lists(st.tuples(gaps, inner, gaps), max_size=3)
        arrays = st.tuples(items, gaps).map(
            lambda drawn: "[" + ",".join("".join(item) for item in drawn[0]) + drawn[1] + "]"
        )
        pairs = st.lists(st.tuples(st.sampled_from(KEYS), inner), max_size=3)
        tables = pairs.map(lambda drawn: "{ " + ", ".join(f"{key} = {value}" for key, value in drawn) + " }")
        return arrays | tables

    return st.recursive(leaves, larger, max_leaves=6)


def statements() -> st.SearchStrategy[str]:
    keys = st.sampled_from(KEYS)
    return (
        st.builds("{} = {}".format, keys, values())
        | st.builds("[{}]".format, keys)
        | st.builds("[ {} . {} ] # [x]".format, keys, keys)
        | st.builds("[[{}]]".format, keys)
        | st.builds("[[ {}.{} ]]".format, keys, keys)
        | st.sampled_from(["", "# [a]", "   "])
    )


def document(drawn: list[str], newline: str) -> list[str]:
    """The drawn statements that make a valid document, in order."""
    kept: list[str] = []
    for statement in drawn:
        try:
            tomllib.loads(newline.join([*kept, statement]))
        except tomllib.TOMLDecodeError:
            continue
        kept.append(statement)
    return kept


def paths(value: object, path: Key = ()) -> set[Key]:
    found: set[Key] = {path} if path else set()
    if isinstance(value, dict):
        for name, inner in value.items():
            found |= paths(inner, (*path, name))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            found |= paths(inner, (*path, index))
    return found


@settings(max_examples=400, deadline=None)
@given(st.lists(statements(), max_size=12), st.sampled_from(["\n", "\r\n"]))
def test_every_key_of_a_document_has_the_line_on_which_it_first_appears(drawn: list[str], newline: str) -> None:
    kept = document(drawn, newline)
    text = newline.join(kept)
    found = lines(text)
    assert set(found) == paths(tomllib.loads(text))
    first = 1
    for count, statement in enumerate(kept, start=1):
        before = paths(tomllib.loads(newline.join(kept[: count - 1])))
        after = paths(tomllib.loads(newline.join(kept[:count])))
        last = first + statement.replace("\r\n", "\n").count("\n")
        for path in after - before:
            assert first <= found[path] <= last, path
            assert len(path) < 2 or found[path[:-1]] <= found[path]
        first = last + 1


@settings(max_examples=300, deadline=None)
@given(st.text(alphabet="ab.[]{}=\"'#\\\n ,1", max_size=60))
def test_text_that_is_no_toml_never_breaks_the_scan(text: str) -> None:
    found = lines(text)
    assert all(1 <= line <= text.count("\n") + 1 for line in found.values())


def test_elements_of_an_array_have_their_own_lines() -> None:
    found = lines('a = [\n  1, # [\n  { b = 2 },\n  """\nx""", 4]\n')
    assert found == {("a",): 1, ("a", 0): 2, ("a", 1): 3, ("a", 1, "b"): 3, ("a", 2): 4, ("a", 3): 5}


def test_tables_inside_arrays_of_tables_belong_to_the_last_element() -> None:
    found = lines("[[a]]\n[a.b]\nc = 1\n[[a]]\n[[a.d]]\n[[a.d]]\ne.f = 2\n")
    assert found[("a", 0, "b", "c")] == 3
    assert found[("a", 1)] == 4
    assert found[("a", 1, "d", 1)] == 6
    assert found[("a", 1, "d", 1, "e", "f")] == 7


def test_a_key_that_is_not_there_is_told_by_the_place_where_it_should_be() -> None:
    found = lines("[[fault]]\nid = 'a'\n\n[[fault]]\nid = 'b'\n")
    assert line_of(found, ("fault", 1, "rate", "default")) == 4
    assert line_of(found, ("check", 0)) == 1


def test_arrays_nested_too_deep_lose_the_scan_and_nothing_else() -> None:
    found = lines("a = 1\nb = " + "[" * 100_000)
    assert found[("a",)] == 1
    assert found[("b",)] == 2

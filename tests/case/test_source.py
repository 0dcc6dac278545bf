"""Files that cannot be parsed: what is wrong, on which line."""

from __future__ import annotations

import tomllib
from contextlib import suppress
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg.case.lines import key_lines
from crushleg.case.reader import read_case_text
from crushleg.case.source import LARGEST, load, parse
from crushleg.errors import InputError

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("raw", "message"),
    [
        (b"", "a.toml: read a file without any key; write a case; `begin`"),
        (b"# only a comment\n", "a.toml: read a file without any key"),
        (
            b"[girder]\nwall = 4 mm\n",
            'a.toml:2: read more than one value: wall = 4 mm; write the quantity in quotes: "4 mm"',
        ),
        (
            b"[girder]\nwall = 3/16 in  # sheet\n",
            (
                "a.toml:2: read more than one value: wall = 3/16 in  # sheet; "
                'write the quantity in quotes: "3/16 in"'
            ),
        ),
        (b'a = 1\nb = "x\n', "a.toml:2: read "),
        (b"a = 1\na = 2\n", "a.toml:2: read a key or table that is given twice: a = 2; write each"),
        (b"[a]\n[a]\n", "a.toml:2: read a key or table that is given twice: [a]; write each key"),
        (b"a = [1,\n2", "a.toml:2: read a list that is not closed"),
        (b"girder\n", "a.toml:1: read a key without =: girder; write valid TOML"),
        (b'a = "C:\\datasheets"', "write paths with / or in single quotes"),
        (b'a = "x"\nb = "\xe9"', "a.toml:2: read byte 0xe9, which is not UTF-8; write the file"),
        (b"\xff\xfea\x00", "a.toml:1: read a text in UTF-16; write the file saved as UTF-8"),
        (b"a = " + b"[" * 10_000, "a.toml: read lists or tables nested too deep"),
        (b"a = " + b"9" * 5_000, "a.toml:1: read "),
        (b"#" * (LARGEST + 1), "a.toml: read more than 1000000 bytes"),
    ],
)
def test_bytes_that_are_no_case_are_refused(raw: bytes, message: str) -> None:
    with pytest.raises(InputError) as caught:
        parse(raw, "a.toml")
    assert message in str(caught.value)


def test_paths_that_are_no_file_are_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file; write the path of a TOML file"):
        load(tmp_path / "gone.toml")
    with pytest.raises(InputError, match="read a folder; write the path of a TOML file"):
        load(tmp_path)
    with pytest.raises(InputError, match="write the path of a readable file"):
        load(tmp_path / ("x" * 300))
    with pytest.raises(InputError, match="write the path of a readable file"):
        load(tmp_path / "nul\0.toml")
    giant = tmp_path / "giant.toml"
    giant.write_bytes(b"#" * (LARGEST + 1))
    with pytest.raises(InputError, match="more than 1000000 bytes"):
        load(giant)


def test_keys_of_every_toml_form_have_their_line() -> None:
    text = (
        "# comment\n"
        'title = """two\n'
        'lines [x] = 1"""\n'
        "[a.b] # table\n"
        '"quoted.key" = {x = 1, y = [1, 2]}\n'
        "c.d = 'literal # no comment'\n"
        "[[a.list]]\n"
        "v = [\n"
        "  1, # one\n"
        '  "]",\n'
        "]\n"
        "[a.list.sub]\n"
        "w = 1979-05-27\n"
        "[[a.list]]\n"
        "v = 2\n"
    )
    lines = key_lines(text)
    assert lines[("title",)] == 2
    assert lines[("a", "b")] == 4
    assert lines[("a", "b", "quoted.key", "y", 1)] == 5
    assert lines[("a", "b", "c", "d")] == 6
    assert lines[("a", "list", 0)] == 7
    assert lines[("a", "list", 0, "v", 1)] == 10
    assert lines[("a", "list", 0, "sub", "w")] == 13
    assert lines[("a", "list", 1, "v")] == 15


keys = st.from_regex(r"[a-z0-9_-]{1,6}", fullmatch=True)
letters = st.characters(codec="utf-8", exclude_characters="'", exclude_categories=["Cc"])
texts = st.text(letters, max_size=8).map(lambda s: f"'{s}'")
scalars = st.one_of(st.integers().map(str), texts, st.just("true"), st.just('"a\\"]b"'))
values = st.recursive(
    scalars,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda v: "[\n " + ", # x ]\n ".join(v) + "\n]"),
        st.dictionaries(keys, inner, max_size=3).map(
            lambda d: "{" + ", ".join(f"{k} = {v}" for k, v in d.items()) + "}"
        ),
    ),
    max_leaves=6,
)


def paths(value: Any, path: tuple[str | int, ...] = ()) -> set[tuple[str | int, ...]]:
    """Every path of parsed TOML."""
    items: list[tuple[str | int, Any]] = []
    if isinstance(value, dict):
        items = list(value.items())
    elif isinstance(value, list):
        items = list(enumerate(value))
    found = {path} if path else set()
    return found.union(*(paths(inner, (*path, key)) for key, inner in items))


@given(
    st.lists(
        st.tuples(st.sampled_from(["", "[{}]", "[[{}]]", "[ {}.{} ]"]), keys, keys, values),
        max_size=6,
    )
)
def test_the_index_has_the_paths_that_the_parser_finds(
    parts: list[tuple[str, str, str, str]],
) -> None:
    text = "\n".join(f"{head.format(k, j)}\n{j} = {value}" for head, k, j, value in parts)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    assert set(key_lines(text)) == paths(data)


@given(st.text(max_size=200))
def test_any_text_is_a_case_or_an_input_error(text: str) -> None:
    with suppress(InputError):
        read_case_text(text, "a.toml")


@given(st.binary(max_size=200))
def test_any_bytes_are_parsed_or_an_input_error(raw: bytes) -> None:
    with suppress(InputError):
        parse(raw, "a.toml")

"""Damaged copies of good files: strategies, and what a reader may answer to one.

Every test here is bounded and the same on every run. To look further,
``pytest tests/robustness --hypothesis-profile campaign`` tries thousands of new ones.
"""

from __future__ import annotations

import re
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from hypothesis import settings
from hypothesis import strategies as st

from crushleg.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

T = TypeVar("T")

EXAMPLES = Path(__file__).parents[2] / "examples"
LONGEST = 1.0
"""Seconds of processor time in which any damaged file is answered."""
CAMPAIGN = "campaign"

NUMBERS = (
    *("0", "-1", "1", "3", "1e308", "-1e308", "1e-320", "1e999", "nan", "-nan", "inf", "-inf"),
    *("9223372036854775808", "1" + "0" * 30, "1" * 5000, "0x7f", "1_000", "-0.0", "0.5", "100"),
)
TEXTS = (
    *("", " ", "4", "4 mm", "-4 mm", "0 mm", "1e308 mm", "1e-320 mm", "nan mm", "inf m", "4 kg"),
    *("1/0 in", "3/16 in", "3,5 mm", "4 mm 5 mm", "50 %", "\u2212 4 mm", "\u0664 mm", "x" * 3000),
    *(
        "1" * 79 + " m",
        "none",
        "../x",
        "/",
        "a\\b",
        "\x7f",
        "\u202e",
        "\U0001f680",
        "all",
        "circle",
    ),
)
OTHERS = (
    *("true", "false", "[]", "{}", "[[]]", "[{}]", "{ a = 1 }", "[1, 'x', true]", "1979-05-27"),
    *("07:32:00", "1979-05-27T07:32:00Z", '["4 mm"]', "[1, 2, 3]", "['80 mm', '70 mm']", "''"),
    *("[" * 40 + "]" * 40, "[" * 3000 + "]" * 3000, "[" * 2000, "{a=" * 900 + "1" + "}" * 900),
    *("", "4 mm", '"', '"""', "'''x", "\\", '"\\u12"', '"\\x"', "=", "1 2", "# x", '"\x00"'),
)
LINES = (
    *("", "# x", "x", "= 1", "x = 1", "[x]", "[[x]]", "[", "]", "[[touchdown]]", "[touchdown]"),
    *("[vehicle]", "[girder]", "[girder.holes]", "[[girder.holes.row]]", "[[girder.wall_steps]]"),
    *(
        "[girder.measured]",
        "[girder.seam]",
        "[limits]",
        "[ground]",
        "[rig]",
        "[stock]",
        "[scatter]",
    ),
    *("[[scheme]]", "[[standing]]", "[[scatter.input]]", "[scheme.girder]", "girder.wall = '4 mm'"),
    *("a.b.c.d = 1", ".".join("a" * 900) + " = 1", "[" + ".".join("a" * 900) + "]", "'a' = {"),
    *("\ufeff", "\t", "key with spaces = 1", '"" = 1', "é = 1", "wall = '5 mm'", "mass = '1 t'"),
)


def values() -> st.SearchStrategy[str]:
    """Draw what may stand behind an equals sign: good, bad and absurd."""
    texts = (st.sampled_from(TEXTS) | st.text(max_size=12)).map(_quoted)
    return st.sampled_from(NUMBERS) | texts | st.sampled_from(OTHERS)


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _delete(draw: st.DrawFn, lines: list[str], at: int) -> None:
    del lines[at : at + draw(st.integers(1, 4))]


def _duplicate(draw: st.DrawFn, lines: list[str], at: int) -> None:
    lines.insert(draw(st.integers(0, len(lines))), lines[at])


def _swap(draw: st.DrawFn, lines: list[str], at: int) -> None:
    other = draw(st.integers(0, len(lines) - 1))
    lines[at], lines[other] = lines[other], lines[at]


def _insert(draw: st.DrawFn, lines: list[str], at: int) -> None:
    lines.insert(at, draw(st.sampled_from(LINES) | st.text(max_size=20)))


def _value(draw: st.DrawFn, lines: list[str], at: int) -> None:
    """Put another value behind an equals sign, or into one cell."""
    new = draw(values())
    head, equals, _ = lines[at].partition("=")
    if equals:
        lines[at] = f"{head}= {new}"
        return
    cells = re.split(r"([,;\t])", lines[at])
    cells[2 * draw(st.integers(0, len(cells) // 2))] = new
    lines[at] = "".join(cells)


def _characters(draw: st.DrawFn, lines: list[str], at: int) -> None:
    line = lines[at]
    begin = draw(st.integers(0, len(line)))
    end = begin + draw(st.integers(0, 3))
    new = draw(st.text(max_size=3) | st.sampled_from("\"'[]{}.,;=#\\\t-+0 "))
    lines[at] = line[:begin] + new + line[end:]


EDITS = (_delete, _duplicate, _swap, _insert, _value, _value, _value, _characters, _characters)


@st.composite
def damaged(draw: st.DrawFn, text: str, most: int = 4) -> str:
    """Draw a copy of a text with a few lines damaged."""
    lines = text.split("\n")
    for _ in range(draw(st.integers(1, most))):
        lines = lines or [""]
        draw(st.sampled_from(EDITS))(draw, lines, draw(st.integers(0, len(lines) - 1)))
    return "\n".join(lines)


@st.composite
def encoded(draw: st.DrawFn, texts: st.SearchStrategy[str]) -> bytes:
    """Draw the bytes of a text: mostly UTF-8, else as other programs and broken disks leave it."""
    text = draw(texts)
    plain = text.encode("utf-8", "surrogatepass")
    how = draw(st.sampled_from(("utf-8",) * 8 + tuple(SPOILED)))
    return plain if how == "utf-8" else SPOILED[how](draw, text, plain)


def _somewhere(draw: st.DrawFn, raw: bytes, new: bytes) -> bytes:
    at = draw(st.integers(0, len(raw)))
    return raw[:at] + new + raw[at:]


SPOILED: dict[str, Callable[[st.DrawFn, str, bytes], bytes]] = {
    "BOM": lambda _draw, _text, raw: b"\xef\xbb\xbf" + raw,
    "CRLF": lambda _draw, _text, raw: raw.replace(b"\n", b"\r\n"),
    "CR": lambda _draw, _text, raw: raw.replace(b"\n", b"\r"),
    "UTF-16": lambda _draw, text, _raw: text.encode("utf-16", "surrogatepass"),
    "UTF-16 no mark": lambda _draw, text, _raw: text.encode("utf-16-le", "surrogatepass"),
    "UTF-32": lambda _draw, text, _raw: text.encode("utf-32", "surrogatepass"),
    "Latin-1": lambda _draw, text, _raw: (text + "# \xe9\n").encode("latin-1", "replace"),
    "NUL": lambda draw, _text, raw: _somewhere(draw, raw, b"\0"),
    "bytes": lambda draw, _text, raw: _somewhere(draw, raw, draw(st.binary(max_size=4))),
    "cut": lambda draw, _text, raw: raw[: draw(st.integers(0, len(raw)))],
}


def bounded(examples: int) -> settings:
    """So many examples, always the same ones; those of a profile that was asked for instead."""
    if settings.get_current_profile_name() == CAMPAIGN:
        return settings.get_profile(CAMPAIGN)
    return settings(max_examples=examples, derandomize=True, deadline=None, database=None)


def answered(read: Callable[[], T], *names: str) -> T | InputError:
    """Answer of a reader: what it read, or its complaint, in time and with every place named.

    ``names``: every problem names one of these, files or options, if any are given.
    """
    begin = time.process_time()
    try:
        found: T | InputError = read()
    except InputError as error:
        found = error
    spent = time.process_time() - begin
    assert spent < LONGEST, f"{spent:.2f} s"
    if isinstance(found, InputError):
        assert_told(found, names)
    return found


def assert_told(error: InputError, names: Sequence[str]) -> None:
    """Every problem is one line that says where it is and what was read."""
    assert error.problems
    for problem in error.problems:
        said: Any = str(problem)
        assert problem.read
        assert "\n" not in said
        assert said.isprintable()
        assert not names or any(name in said for name in names), said

"""Explanations: every margin and quantity has one, made of docstrings that are there."""

from __future__ import annotations

import inspect
import math
import re
import subprocess
import sys
from functools import reduce
from importlib import import_module
from typing import TYPE_CHECKING, Any

import pytest

from crushleg import cli
from crushleg.cautions import SCREENING
from crushleg.errors import InputError
from crushleg.explain import explanation, names
from crushleg.explain.docstrings import LABELS, STATUSES, doc_of
from crushleg.explain.names import ALIASES, GROUPS
from crushleg.report.data import result
from crushleg.report.explain_text import print_explanation, print_names
from crushleg.report.notes import SYMBOLS
from crushleg.report.words import IN_MOTION, MEANINGS
from tests.report.cases import WIDTH, bare, checked, printed, terminal

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

FUNCTIONS = sorted({f for group in GROUPS for functions in group.names.values() for f in functions})
GIVEN = {
    "schema": "format of the file",
    "title": "as the case gives it",
    "revision": "as the case gives it",
    "author": "as the case gives it",
    "version": "of crushleg",
    "input_sha256": "of the case file",
    "material": "as the case gives it",
    "height": "as the case gives it",
    "size": "as the case gives it",
    "size_along": "as the case gives it",
    "shape": "as the case gives it",
    "per_face": "as the case gives it",
    "faces": "as the case gives it",
    "name": "as the case gives it",
    "slope": "as the case gives it",
    "attitude": "as the case gives it",
    "check": "name of the margin: explained by that name",
    "touchdown": "as the case gives it",
    "unit": "of demand and capability",
    "reason": "text",
    "note": "text",
    "cautions": "text",
    "sources": "text",
}
"""Keys of the result of `check` that nothing is computed for, and why."""


@pytest.mark.parametrize("name", names())
def test_every_name_has_a_formula_a_source_and_a_status(name: str) -> None:
    about = explanation(name)
    assert about.title
    assert about.band
    own = about.equations[0]
    assert own.formula
    for equation in about.equations:
        assert equation.formula, equation.function
        assert equation.source, equation.function
        assert equation.status, equation.function


@pytest.mark.parametrize("function", FUNCTIONS)
def test_every_function_behind_a_name_exists_and_its_docstring_is_the_one_told(
    function: str,
) -> None:
    found = resolved(function)
    text = " ".join((inspect.getdoc(found) or "").split())
    formulas = doc_of(function).labelled["Formula"]
    assert formulas
    assert [formula for formula in formulas if formula not in text] == []


def resolved(function: str) -> Any:
    """Import the function of a dotted name."""
    parts = function.split(".")
    for cut in range(len(parts), 0, -1):
        try:
            module = import_module(".".join(("crushleg", *parts[:cut])))
        except ModuleNotFoundError:
            continue
        return reduce(getattr, parts[cut:], module)
    raise AssertionError(function)


@pytest.mark.parametrize("function", FUNCTIONS)
def test_an_explanation_has_no_markup_no_unknown_key_and_no_status_of_its_own(
    function: str,
) -> None:
    doc = doc_of(function)
    told = [doc.summary, *doc.says, *doc.arguments, *doc.results, *doc.notes, *doc.references]
    told += [text for label in LABELS for text in doc.labelled[label]]
    assert [text for text in told if re.search(r"`|\\|\.\. |>>>|:math:", text)] == []
    bracketed = re.findall(r"\[([^\]]*)\]", " ".join(doc.references))
    assert set(bracketed) <= set(STATUSES)


def test_every_margin_has_an_explanation_that_is_a_margin() -> None:
    assert set(MEANINGS) | set(IN_MOTION) <= set(GROUPS[0].names)


@pytest.mark.parametrize("name", sorted({*MEANINGS, *IN_MOTION}))
def test_a_margin_names_demand_and_capability(name: str) -> None:
    formula = explanation(name).equations[0].formula
    assert "demand = " in formula
    assert "capability" in formula


def leaves(found: Any, place: str = "") -> Iterator[str]:
    """Dotted keys of everything in a result that is no record itself."""
    if isinstance(found, dict) and set(found) != {"low", "nominal", "high"}:
        for key, value in found.items():
            yield from leaves(value, f"{place}.{key}".removeprefix("."))
    elif isinstance(found, list) and found and isinstance(found[0], dict):
        for value in found:
            yield from leaves(value, place)
    else:
        yield place


def is_known(key: str) -> bool:
    try:
        explanation(key)
    except InputError:
        return False
    return True


def test_every_key_of_the_result_of_check_is_explained_or_given_by_the_case() -> None:
    keys = set(leaves(result(checked("test-stage"))))
    assert len(keys) > 70
    unknown = {key.rpartition(".")[2] for key in keys if not is_known(key)}
    assert {re.sub("_(m|rad)$", "", key) for key in unknown} == set(GIVEN)


def test_symbols_that_the_report_explains_are_names_too() -> None:
    symbols = [symbol for names_, _ in SYMBOLS for symbol in names_.split(", ")]
    assert [explanation(symbol).name for symbol in symbols]


def test_aliases_lead_to_names_and_are_none_themselves() -> None:
    assert set(ALIASES.values()) <= set(names())
    assert not set(ALIASES) & set(names())


def test_names_are_told_apart() -> None:
    assert len(set(names())) == len(names())
    titles = [explanation(name).title for name in names()]
    assert len(set(titles)) == len(titles)


def test_blanks_hyphens_and_units_are_forgiven_capitals_of_symbols_are_not() -> None:
    assert explanation("leg load").name == explanation("Leg-Load").name == "leg_load"
    assert explanation("folds.start_force_N").name == "crest"
    assert explanation("girder.rows.start_force_N").name == "start_force"
    assert explanation("percentile_95").name == "percentile"
    assert explanation("R").name == "R"
    with pytest.raises(InputError):
        explanation("r")


@pytest.mark.parametrize(
    ("asked", "near"), [("legload", "leg_load"), ("mean_froce", "mean_force"), ("tipover", "tip_")]
)
def test_an_unknown_name_gets_the_nearest_one(
    asked: str, near: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["explain", asked]) == cli.INPUT
    shown = capsys.readouterr()
    assert shown.out == ""
    assert asked in shown.err
    assert f'did you mean "{near}' in shown.err


def test_a_function_that_is_not_there_is_refused() -> None:
    with pytest.raises(LookupError):
        doc_of("girder.modes.no_such_function")
    with pytest.raises(LookupError):
        doc_of("girder.no_such_module.f")


# ---------------------------------------------------------------- formulas that a number can tell

CALCULABLE: dict[str, tuple[str, Callable[[float], float]]] = {
    "52.22 (C/t)^(1/3)": ("girder.modes.symmetric_ratio", lambda x: 52.22 * x ** (1 / 3)),
    "32.64 √(C/t) + 8.16": (
        "girder.modes.extensional_ratio",
        lambda x: 32.64 * math.sqrt(x) + 8.16,
    ),
    "45.90 (C/t)^(1/3) + 1.75 (C/t)^(2/3) + 1.02": (
        "girder.modes.asymmetric_ratio",
        lambda x: 45.90 * x ** (1 / 3) + 1.75 * x ** (2 / 3) + 1.02,
    ),
    "0.10 − 0.025 (1 − min(φh/0.3, 1))²": (
        "girder.bands.model_scatter",
        lambda x: 0.10 - 0.025 * (1.0 - min(x / 0.3, 1.0)) ** 2,
    ),
    "0.687 μ + 0.359 μ²)/μ": (
        "girder.buckling.stagger_factor",
        lambda x: min(x, 0.687 * x + 0.359 * x**2) / x,
    ),
    "(1 − 0.22/λ)/λ": ("girder.buckling.plain_width", lambda x: min((1 - 0.22 / x) / x, 1.0)),
}


@pytest.mark.parametrize("formula", list(CALCULABLE))
@pytest.mark.parametrize("x", [0.8, 0.9])
def test_a_formula_of_one_number_is_what_its_function_computes(formula: str, x: float) -> None:
    function, written = CALCULABLE[formula]
    assert formula in " ".join(doc_of(function).labelled["Formula"])
    assert float(resolved(function)(x)) == pytest.approx(written(x), rel=1e-12)


# ---------------------------------------------------------------- on the terminal


def run(*arguments: str, options: Sequence[str] = ()) -> str:
    """Return what a process of its own prints."""
    command = [sys.executable, *options, "-X", "utf8", "-m", "crushleg", "explain", *arguments]
    return subprocess.run(command, check=True, capture_output=True, encoding="utf-8").stdout


def test_python_without_docstrings_explains_all_the_same() -> None:
    assert "margin = capability/(factor × demand) − 1" in run("margin", options=["-OO"])


def test_no_heavy_library_is_imported() -> None:
    code = (
        "import sys; from crushleg.cli import main; main(['explain', 'tolerance_limit']);"
        "print(sorted({'scipy', 'matplotlib', 'pandas'} & set(sys.modules)))"
    )
    command = [sys.executable, "-X", "utf8", "-c", code]
    found = subprocess.run(command, check=True, capture_output=True, encoding="utf-8").stdout
    assert found.endswith("\n[]\n")


@pytest.mark.parametrize("name", names())
def test_piped_text_has_whole_lines_and_a_terminal_none_beyond_its_width(name: str) -> None:
    about = explanation(name)
    piped = printed(lambda console: print_explanation(about, console)).splitlines()
    for formula in about.equations[0].formula.splitlines():
        assert any(line.endswith(formula) for line in piped)
    assert SCREENING in piped
    shown = bare(printed(lambda console: print_explanation(about, console), terminal()))
    assert max(map(len, shown.splitlines())) <= WIDTH


def test_the_list_has_every_name_once_with_what_it_is() -> None:
    lines = printed(print_names).splitlines()
    for name in names():
        (line,) = (line for line in lines if line.split()[:1] == [name])
        assert line.endswith(explanation(name).title)


def test_the_verb_prints_the_list_without_a_name(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["explain"]) == cli.PASSED
    assert "leg_load" in capsys.readouterr().out

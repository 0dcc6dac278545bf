"""The printed report: fits 80 columns, says the same everywhere, agrees with the arrays."""

from __future__ import annotations

import re
import subprocess
import sys
from collections import Counter

import pytest
from rich.cells import cell_len

from crushleg.cautions import SCREENING
from crushleg.report.layout import Column, Table, print_blocks
from crushleg.report.text import report_text
from crushleg.report.words import MEANINGS
from crushleg.said import shown, without
from tests.report.cases import CASES, MANY, WIDTH, bare, checked, line, printed, report, terminal

EVERY = pytest.mark.parametrize("name", CASES)
UNITS = pytest.mark.parametrize("units", ["si", "us"])


@EVERY
@UNITS
def test_every_line_fits_80_columns(name: str, units: str) -> None:
    shown = bare(report(CASES[name], units, terminal()))
    assert [text for text in shown.splitlines() if cell_len(text) > WIDTH] == []
    assert "…" not in shown


@pytest.mark.parametrize("name", [name for name in CASES if name not in ("long title", "many")])
@UNITS
def test_terminal_and_pipe_say_the_same_words(name: str, units: str) -> None:
    shown = bare(report(CASES[name], units, terminal()))
    assert Counter(shown.split()) == Counter(report(CASES[name], units).split())


@EVERY
@UNITS
def test_plain_text_has_no_codes_no_trailing_spaces_and_whole_lines(name: str, units: str) -> None:
    text = report(CASES[name], units)
    assert text == report_text(CASES[name], units)
    assert "\x1b" not in text
    assert [row for row in text.splitlines() if row != row.rstrip()] == []
    assert SCREENING in text.splitlines()
    for caution in CASES[name].cautions:
        named = [one for one in CASES[name].case.touchdowns if caution.startswith(f"{one.name}: ")]
        body = shown(without(caution, f"{named[0].name}: ") if named else "- " + caution, units)
        said = [
            row
            for row in text.splitlines()
            if row.startswith("- ") and row.endswith(shown(body, units))
        ]
        assert caution.startswith("Not judged: ") or len(said) == 1
    assert text.endswith(f"{SCREENING}\n")


def test_plain_text_does_not_follow_the_width_of_the_terminal(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    wide = report(CASES["test-stage"])
    monkeypatch.setenv("COLUMNS", "40")
    assert report(CASES["test-stage"]) == wide


def test_a_table_too_wide_for_the_terminal_has_a_line_for_every_cell() -> None:
    cell = "12345678 / 23456789 / 34567890"
    table = Table((Column(("force",)), Column(("mean", "kN")), Column(("",))), [(cell, cell, "")])
    shown = bare(printed(lambda console: print_blocks([table], console), terminal(width=45)))
    assert [row.rstrip() for row in shown.splitlines()] == [f"force  {cell}", f"  mean kN  {cell}"]


@pytest.mark.parametrize("width", [40, 60])
def test_narrow_terminals_break_no_line_in_the_middle_of_a_table(width: int) -> None:
    shown = bare(report(CASES["test-stage"], console=terminal(width)))
    assert [row for row in shown.splitlines() if cell_len(row) > width] == []


@pytest.mark.parametrize("width", [0, 1, 19])
def test_a_terminal_without_width_is_taken_as_80_columns(width: int) -> None:
    case = CASES["test-stage"]
    assert report(case, console=terminal(width)) == report(case, console=terminal(80))


def test_a_case_that_never_stops_says_so_in_words() -> None:
    text = report(CASES["endless"])
    words = "never stops: weight on the legs exceeds the crush force"
    assert line(text, "Governing: stroke").endswith(f": {words}")
    assert line(text, "stroke needed").split().count("–") == 3
    assert not re.search(r"\b(inf|nan)\b", text)
    assert f"- all touchdowns: {words}." in text.splitlines()


def test_equal_cautions_of_several_touchdowns_are_one() -> None:
    text = report(checked("test-stage", more=MANY))
    bodies = [row.partition(": ")[2] for row in text.splitlines() if "thrust is held" in row]
    assert len(bodies) == 1


def test_what_is_not_judged_anywhere_names_all_touchdowns_at_once() -> None:
    assert "tip over (all touchdowns): " in line(report(CASES["test-stage"]), "Not judged ")


def test_both_energies_are_labelled_and_the_judged_one_says_so() -> None:
    text = report(CASES["heavy"])
    assert line(text, "energy to end of usable stroke").endswith("low")
    landed = CASES["heavy"].landings[0]
    judged = line(text, "energy to end of usable stroke, kJ").split()[-4]
    assert float(judged) == pytest.approx(1e-3 * landed.asked[0, 0], rel=5e-3)
    stop = line(text, "energy to the stop, kJ").split()[-3]
    assert float(stop) == pytest.approx(1e-3 * landed.demand[0, 0], rel=5e-3)


def test_symbols_are_explained_before_the_end() -> None:
    symbols = report(CASES["coupon"]).partition("\nSymbols\n")[2]
    for name in ("C/t", "d/C", "Wn", "s_y, s_u, n", "least work", "alternative"):
        assert name in symbols


def colours(text: str) -> list[str]:
    codes = [code for part in re.findall(r"\x1b\[([0-9;]*)m", text) for code in part.split(";")]
    return [code for code in codes if code and int(code) >= 30]


def test_no_color_is_honoured(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert colours(report(CASES["heavy"], console=terminal()))
    monkeypatch.setenv("NO_COLOR", "1")
    assert colours(report(CASES["heavy"], console=terminal())) == []


def test_verdict_and_governing_margin_come_before_everything_else() -> None:
    for case in CASES.values():
        top = report(case).splitlines()[:5]
        governing = case.margins[case.governs]
        assert any(row.startswith("PASSES" if case.passes else "FAILS") for row in top)
        name = f"{governing.check.replace('_', ' ')} ({governing.touchdown})"
        assert any(row.startswith(f"Governing: {name}") for row in top)


def test_sections_come_in_their_order_with_the_screening_first_and_last() -> None:
    text = report(CASES["test-stage"])
    sections = [
        "Dunlin", "revision A", "PASSES", "Governing", "Girder", "Rows of holes", "Folds of",
        "Touchdowns", "Margins", "Not judged", "PASSES", "Cautions", f"- {SCREENING}", "Sources",
        "Symbols", SCREENING,
    ]  # fmt: skip
    at = -1
    for section in sections:
        at = text.index(f"\n{section}", at + 1) if at >= 0 else text.index(section)


def test_a_failing_case_says_so_in_words() -> None:
    case = CASES["heavy"]
    short = [m for m in case.margins if m.counts and m.margin is not None and m.margin[0] < 0.0]
    text = report(case)
    assert len(short) > 3
    assert f"FAILS: {len(short)} of" in text
    assert f"and {len(short) - 3} more" in text
    assert "PASSES" not in text
    marked = [row for row in text.splitlines() if row.endswith("negative")]
    uncounted = [row for row in text.splitlines() if row.endswith("negative, not counted")]
    governing = [row for row in text.splitlines() if row.endswith("governs, negative")]
    assert len(marked) == len(short)
    assert len(governing) == 1
    assert uncounted


def test_a_leg_that_bottoms_says_so_at_the_force_it_bottoms_at() -> None:
    text = report(CASES["heavy"])
    assert line(text, "bottomed").split() == ["bottomed", "BOTTOMED", "BOTTOMED", "no"]
    assert "stroke needed" in text
    assert "BOTTOMED" not in report(CASES["test-stage"])


def test_reserve_speeds_are_worked_out() -> None:
    text = report(CASES["test-stage"])
    assert "reserve: 40 t, vertical 3.5 m/s × 1.2 = 4.2 m/s (RESERVE, all speeds)" in text
    assert "nominal: 40 t, vertical 3.5 m/s, all legs at once" in text


def test_control_characters_of_a_title_do_not_reach_the_terminal() -> None:
    text = report(checked("coupon", r'title="red \u001b[31m alert\nsecond line"'))
    assert text.splitlines()[0] == "red  [31m alert second line"


def test_every_check_has_words() -> None:
    for case in CASES.values():
        assert {margin.check for margin in case.margins} <= set(MEANINGS)


def test_the_report_needs_numpy_and_rich_alone() -> None:
    script = (
        "import sys, crushleg\n"
        "from crushleg.report.text import print_report\n"
        "from crushleg.report.data import result\n"
        "from crushleg.report.files import write_json\n"
        "case = crushleg.check_case(crushleg.read_case_text(crushleg.template('coupon')))\n"
        "print_report(case); write_json(result(case))\n"
        "heavy = {'scipy', 'pandas', 'matplotlib'} & set(sys.modules)\n"
        "sys.exit(f'imported: {heavy}' if heavy else 0)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "PASSES" in done.stdout

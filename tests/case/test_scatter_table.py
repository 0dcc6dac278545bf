"""[scatter]: what is read, and every bad distribution refused with field, line and why."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg.case.reader import read_case_text
from crushleg.case.scatter_span import share_kept
from crushleg.case.templates import template
from crushleg.errors import InputError
from tests.case.conftest import CASE

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.case.scatter_records import ScatterInput
    from tests.case.conftest import Complain, Read

FIRST = CASE.count("\n") + 1
"""Line of [scatter] when it is put behind the case; the first input begins on the next."""
NORMAL = 'distribution = "normal"'


def one(*rows: str, key: str = "girder.wall") -> str:
    return "\n".join([CASE + "[scatter]", "[[scatter.input]]", f'key = "{key}"', *rows, ""])


def pair(value: float, *keys: str) -> str:
    names = ", ".join(f'"{key}"' for key in keys)
    return f"[[scatter.correlation]]\ninputs = [{names}]\nvalue = {value}\n"


def first(read: Read, *rows: str, key: str = "girder.wall") -> ScatterInput:
    case = read(text=one(*rows, key=key))
    assert case.scatter is not None
    return case.scatter.inputs[0]


def test_without_the_table_a_case_says_nothing_of_scatter(read: Read) -> None:
    assert read().scatter is None


def test_an_empty_table_has_the_defaults(read: Read) -> None:
    scatter = read(text=CASE + "[scatter]\n").scatter
    assert scatter is not None
    assert (scatter.samples, scatter.seed, scatter.method) == (4096, 1, "sobol")
    assert (scatter.defaults, scatter.inputs, scatter.correlations) == (True, (), ())


def test_an_input_is_read_in_si_with_the_value_of_the_case(read: Read) -> None:
    found = first(read, NORMAL, 'deviation = "0.04 mm"', 'part = "leg"', 'low = "3.9 mm"')
    assert (found.deviation, found.low, found.high, found.mean) == (4e-5, 3.9e-3, None, None)
    assert (found.centre, found.kind, found.part) == (4e-3, "length", "leg")
    assert found.path == ("girder", "wall")


@pytest.mark.parametrize(
    ("key", "shown", "centre"),
    [
        ("touchdown.reserve.vertical_speed", "touchdown.reserve.vertical_speed", 3.5),
        ("touchdown.1.vertical_speed", "touchdown.reserve.vertical_speed", 3.5),
        ("vehicle.gravity", "vehicle.gravity", 9.80665),
        ("leg.pad_friction", "leg.pad_friction", 0.4),
        ("girder.holes.sizes.2", "girder.holes.sizes.2", 0.064),
        ("girder.holes.row_pitch", "girder.holes.row_pitch", 0.13),
        ("girder.corner_radius", "girder.corner_radius", 0.008),
        ("girder.temperature", "girder.temperature", 293.15),
        ("girder.material.yield_strength", "girder.material.yield_strength", 300e6),
        ("girder.material.density", "girder.material.density", 7900.0),
        ("standing.fuelled.mass", "standing.fuelled.mass", 50e3),
        ("factors.column", "factors.column", 1.4),
    ],
)
def test_a_key_is_found_with_the_value_the_case_has(
    read: Read, key: str, shown: str, centre: float
) -> None:
    found = first(read, NORMAL, "cov = 0.001", key=key)
    assert found.key == shown
    assert found.centre == pytest.approx(centre)


def test_holes_and_model_are_about_0_and_1(read: Read) -> None:
    assert first(read, NORMAL, 'deviation = "0.1 mm"', key="girder.hole_size").centre == 0.0
    assert first(read, key="model").centre == 1.0


def test_an_override_reaches_the_table(read: Read) -> None:
    case = read("scatter.input.0.deviation=0.02 mm", text=one(NORMAL, 'deviation = "0.04 mm"'))
    assert case.scatter is not None
    assert case.scatter.inputs[0].deviation == 2e-5


def test_a_column_of_samples_is_read_in_its_unit(read: Read, folder: Path) -> None:
    rows = "\n".join(f"{i},{3.9 + 0.01 * i:.2f}" for i in range(20))
    (folder / "sheets.csv").write_text(f"sheet, wall\n{rows}\n", encoding="utf-8")
    keys = ('distribution = "samples"', 'file = "sheets.csv"', 'column = "wall"', 'unit = "mm"')
    found = first(read, *keys)
    assert found.drawn[:2] == (3.9e-3, 3.91e-3)
    assert len(found.drawn) == 20
    assert str(folder / "sheets.csv") in read(text=one(*keys)).beside


@pytest.mark.parametrize(
    ("rows", "field", "said"),
    [
        ((NORMAL, 'deviation = "-0.04 mm"'), "deviation", "a standard deviation of -0.04 mm"),
        ((NORMAL, 'deviation = "0 mm"'), "deviation", "a standard deviation of 0 mm"),
        ((NORMAL, "cov = -0.1"), "cov", "read -0.1"),
        ((NORMAL,), "cov", 'nothing ("normal" needs it); write deviation or cov'),
        ((NORMAL, "cov = 0.1", 'deviation = "1 mm"'), "cov", "deviation and cov"),
        ((NORMAL, "cov = 0.01", 'mode = "4 mm"'), "mode", 'which "normal" does not use'),
        ((NORMAL, "cov = 0.01", 'low = "4.1 mm"', 'high = "4 mm"'), "high", "under low 4.1 mm"),
        ((NORMAL, "cov = 0.001", 'low = "4.1 mm"'), "low", "cuts that leave"),
        ((NORMAL, 'deviation = "0.04 kg"'), "deviation", "a mass"),
        ((NORMAL, "deviation = 0.04"), "deviation", "a number without a unit"),
        (('distribution = "lognormal"', 'median = "-4 mm"', "cov = 0.1"), "median", "logarithm"),
        (('distribution = "lognormal"', 'median = "4 mm"'), "cov", 'nothing ("lognormal"'),
        (
            ('distribution = "triangular"', 'low = "4 mm"', 'mode = "3 mm"', 'high = "5 mm"'),
            "mode",
            "mode 3 mm under low 4 mm",
        ),
        (('distribution = "uniform"', 'low = "4 mm"', 'high = "4 mm"'), "high", "under low 4 mm"),
        (('distribution = "uniform"', 'low = "4 mm"'), "high", 'nothing ("uniform" needs it)'),
        (('distribution = "gauss"',), "distribution", 'read "gauss"'),
        (('part = "wing"', NORMAL, "cov = 0.01"), "part", 'read "wing"'),
        (('deviation = "1 mm"',), "distribution", "nothing, beside deviation"),
        (
            ('distribution = "table"', 'values = ["3.9 mm", "4 mm"]', "probabilities = [0.5, 0.4]"),
            "probabilities",
            "probabilities that sum to 0.9",
        ),
        (
            ('distribution = "table"', 'values = ["4 mm", "3.9 mm"]', "probabilities = [0.5, 0.5]"),
            "values",
            "values that do not ascend",
        ),
        (
            ('distribution = "table"', 'values = ["3.9 mm", "4 mm"]', "probabilities = [1.0]"),
            "probabilities",
            "1 for 2 values",
        ),
        (
            ('distribution = "table"', 'values = ["3.9 mm", "4 mm"]', "cumulative = [0.1, 1.0]"),
            "cumulative",
            "does not rise from 0 to 1",
        ),
        (
            ('distribution = "table"', 'values = ["3.9 mm", "x"]', "cumulative = [0, 1]"),
            "values.1",
            '"x"',
        ),
    ],
)
def test_what_is_no_distribution_is_refused(
    complain: Complain, rows: tuple[str, ...], field: str, said: str
) -> None:
    (problem,) = complain(text=one(*rows))
    assert f"scatter.input.0.{field}: read " in problem
    assert said in problem
    assert int(problem.split(":")[1]) >= FIRST + 1


@pytest.mark.parametrize(
    ("key", "rows", "said"),
    [
        (
            "girder.wall",
            (NORMAL, 'deviation = "1 mm"'),
            "girder.wall that can reach -1.998 mm; write at least 0.001 mm",
        ),
        (
            "leg.cant",
            (NORMAL, 'deviation = "1 deg"'),
            'a narrower distribution, or a cut with "low" and "high"; such as low = "0 deg"',
        ),
        (
            "girder.wall",
            ('distribution = "uniform"', 'low = "2 mm"', 'high = "80 mm"'),
            "girder.wall that can reach 80 mm, where girder.wall is a wall of 80 mm",
        ),
        (
            "girder.holes.sizes.0",
            (NORMAL, 'deviation = "10 mm"'),
            "girder.holes.sizes.0 that can reach 142 mm, where girder.holes.sizes.0 is ",
        ),
        (
            "girder.hole_size",
            (NORMAL, 'deviation = "12 mm"'),
            "girder.hole_size that can reach -71.97 mm, where girder.holes.row",
        ),
        (
            "touchdown.nominal.thrust_to_weight",
            ('distribution = "uniform"', "low = 0.5", "high = 1.2"),
            "thrust_to_weight that can reach 1.2; write at least 0 and less than 1",
        ),
    ],
)
def test_a_distribution_that_leaves_its_field_or_breaks_a_rule_is_refused(
    complain: Complain, key: str, rows: tuple[str, ...], said: str
) -> None:
    (problem,) = complain(text=one(*rows, key=key))
    assert problem.startswith(f"case.toml:{FIRST + 1}: scatter.input.0: read ")
    assert said in problem


def test_a_cut_heals_a_distribution_that_leaves_its_field(read: Read) -> None:
    assert first(read, NORMAL, 'deviation = "1 deg"', 'low = "0 deg"', key="leg.cant").low == 0.0


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("girder.wal", 'which is no input of a case; write a key as for --set; did you mean "gir'),
        ("vehicle.legs", "a count, which cannot scatter"),
        ("leg.side_load", "a choice, which cannot scatter"),
        ("touchdown.gusty.slope", '"gusty", which is not in the list touchdown; write a number'),
        ("ground.bearing_pressure", "without [ground]"),
        ("girder.holes.foot_size", "which the grading law does not have"),
        ("girder.holes.sizes.7", '"7", which is not in the list girder.holes.sizes'),
        ("model.factor", "which is no input of a case"),
    ],
)
def test_a_key_that_cannot_scatter_is_refused(complain: Complain, key: str, said: str) -> None:
    (problem,) = complain(text=one(NORMAL, "cov = 0.01", key=key))
    assert problem.startswith(f"case.toml:{FIRST + 2}: scatter.input.0.key: read ")
    assert said in problem


def test_a_value_that_a_measured_one_overrides_is_refused(complain: Complain, read: Read) -> None:
    measured = "girder.measured.wall=3.9 mm"
    (problem,) = complain(measured, text=one(NORMAL, "cov = 0.01"))
    assert "which girder.measured.wall overrides" in problem
    found = read(measured, text=one(NORMAL, "cov = 0.01", key="girder.measured.wall"))
    assert found.scatter is not None
    assert found.scatter.inputs[0].centre == 3.9e-3
    key = "girder.material.yield_strength"
    (problem,) = complain(
        "girder.measured.yield_strength=301 MPa", text=one(NORMAL, "cov = 0.01", key=key)
    )
    assert "which girder.measured.yield_strength overrides" in problem


def test_what_the_case_does_not_give_needs_a_mean(complain: Complain, read: Read) -> None:
    (problem,) = complain(text=one(NORMAL, 'deviation = "1 t"', key="touchdown.nominal.mass"))
    assert "mean: read nothing, and the case gives no touchdown.nominal.mass" in problem
    rows = (NORMAL, 'deviation = "1 t"', 'mean = "39 t"')
    assert first(read, *rows, key="touchdown.nominal.mass").mean == 39e3


def test_the_same_key_twice_in_one_part_is_refused(complain: Complain, read: Read) -> None:
    once = one(NORMAL, "cov = 0.01")
    again = f'[[scatter.input]]\nkey = "girder.wall"\n{NORMAL}\ncov = 0.02\n'
    (problem,) = complain(text=once + again)
    assert '"girder.wall" twice, part "batch"' in problem
    scatter = read(text=f'{once}{again}part = "leg"\n').scatter
    assert scatter is not None
    assert [found.part for found in scatter.inputs] == ["batch", "leg"]


def test_both_parts_together_must_stay_in_the_field(complain: Complain) -> None:
    """Each alone reaches 0.6 mm, both together -2.8 mm."""
    text = one(NORMAL, 'deviation = "0.5667 mm"')
    again = f'[[scatter.input]]\nkey = "girder.wall"\n{NORMAL}\ndeviation = "0.5667 mm"\n'
    problems = complain(text=f'{text}{again}part = "leg"\n')
    assert any("girder.wall that can reach -2.798 mm, where girder.wall is" in p for p in problems)


def test_the_same_touchdown_by_name_and_number_is_the_same_key(complain: Complain) -> None:
    text = one(NORMAL, "cov = 0.01", key="touchdown.nominal.vertical_speed")
    again = f'[[scatter.input]]\nkey = "touchdown.0.vertical_speed"\n{NORMAL}\ncov = 0.02\n'
    (problem,) = complain(text=text + again)
    assert "twice" in problem


def test_what_no_leg_has_for_itself_is_refused_leg_to_leg(complain: Complain) -> None:
    (problem,) = complain(text=one(NORMAL, "cov = 0.01", 'part = "leg"', key="vehicle.mass"))
    assert '"leg" of vehicle.mass, which no leg has for itself' in problem


THREE = ("vehicle.mass", "vehicle.gravity", "leg.pad_friction")


def inputs(*keys: str) -> str:
    return "".join(f'[[scatter.input]]\nkey = "{key}"\n{NORMAL}\ncov = 0.01\n' for key in keys)


def test_correlations_that_cannot_be_together_are_refused(complain: Complain, read: Read) -> None:
    a, b, c = THREE
    text = f"{CASE}[scatter]\n{inputs(*THREE)}"
    good = text + pair(0.9, a, b) + pair(0.9, b, c) + pair(0.7, a, c)
    scatter = read(text=good).scatter
    assert scatter is not None
    assert [one.value for one in scatter.correlations] == [0.9, 0.9, 0.7]
    (problem,) = complain(text=text + pair(0.9, a, b) + pair(0.9, b, c) + pair(-0.9, a, c))
    assert (
        "scatter.correlation.2.value: read -0.9: all correlations together are not pos" in problem
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (pair(1.0, *THREE[:2]), "correlation.0.value: read 1; write more than -1 and less than 1"),
        (pair(0.5, THREE[0], THREE[0]), '"vehicle.mass" twice'),
        (pair(0.5, *THREE), "a list; write inputs = ["),
        (pair(0.5, "vehicle.mass", "leg.cant"), '"leg.cant", which has no [[scatter.input]]'),
        (pair(0.5, *THREE[:2]) * 2, "a pair that stands above already"),
        (pair(0.5, "vehicle.mas", THREE[1]), 'did you mean "vehicle.mass"?'),
    ],
)
def test_a_correlation_of_what_does_not_scatter_is_refused(
    complain: Complain, text: str, said: str
) -> None:
    head = f"{CASE}[scatter]\ndefaults = false\n{inputs(*THREE)}"
    assert any(said in problem for problem in complain(text=head + text))


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (["3.9"] * 11 + [""] + ["4.0"], "sheets.csv line 13: an empty line"),
        (["3.9"] * 11 + ["nan"], 'sheets.csv line 13: "nan"'),
        (["3.9"] * 11 + ["3,9"], "sheets.csv line 13"),
        (["3.9,"] * 11 + [",4.0"], "sheets.csv line 13: a gap"),
        (["3.9"] * 5, "5 samples; write at least 10"),
    ],
)
def test_gaps_in_samples_are_refused_with_their_line(
    complain: Complain, folder: Path, rows: list[str], said: str
) -> None:
    if said.endswith("line 13"):
        rows[-1] = "x"
    (folder / "sheets.csv").write_text("\n".join(["wall", *rows]) + "\n", encoding="utf-8")
    keys = ('distribution = "samples"', 'file = "sheets.csv"', 'column = "wall"', 'unit = "mm"')
    (problem,) = complain(text=one(*keys))
    assert problem.startswith(f"case.toml:{FIRST + 4}: scatter.input.0.file: read ")
    assert said in problem


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        (('file = "none.csv"', 'column = "wall"', 'unit = "mm"'), "none.csv, no such file"),
        (
            ('file = "sheets.csv"', 'column = "wal"', 'unit = "mm"'),
            'no column of sheets.csv; write one of: wall; did you mean "wall"?',
        ),
        (('file = "sheets.csv"', 'column = "wall"'), "unit: read nothing (unit of the column)"),
        (('file = "sheets.csv"', 'column = "wall"', 'unit = "kg"'), 'unit: read "kg"'),
        (('file = "sheets.csv"',), 'column: read nothing ("samples" needs it)'),
    ],
)
def test_a_column_that_cannot_be_found_is_refused(
    complain: Complain, folder: Path, keys: tuple[str, ...], said: str
) -> None:
    (folder / "sheets.csv").write_text("wall\n" + "3.9\n" * 12, encoding="utf-8")
    (problem,) = complain(text=one('distribution = "samples"', *keys))
    assert said in problem


def test_samples_outside_the_bounds_of_the_field_are_refused(
    complain: Complain, folder: Path
) -> None:
    (folder / "sheets.csv").write_text("wall\n" + "3.9\n" * 12 + "-1\n", encoding="utf-8")
    keys = ('distribution = "samples"', 'file = "sheets.csv"', 'column = "wall"', 'unit = "mm"')
    (problem,) = complain(text=one(*keys))
    assert "girder.wall that can reach -1 mm" in problem


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("samples = 3", "scatter.samples: read 3; write at least 16"),
        ("samples = 1e4", "scatter.samples: read 10000.0; write a whole number"),
        ('method = "halton"', 'scatter.method: read "halton"'),
        ("seed = -1", "scatter.seed: read -1; write at least 0"),
        ("sample = 100", 'did you mean "samples"?'),
        ("input = 3", "scatter.input, no list of tables"),
    ],
)
def test_a_bad_head_is_refused(complain: Complain, row: str, said: str) -> None:
    (problem,) = complain(text=f"{CASE}[scatter]\n{row}\n")
    assert said in problem


def test_a_deviation_of_temperature_is_a_difference(complain: Complain, read: Read) -> None:
    key = "girder.temperature"
    (problem,) = complain(text=one(NORMAL, 'deviation = "5 degC"', key=key))
    assert 'deviation: read "5 degC"; write a difference in "K"' in problem
    assert first(read, NORMAL, 'deviation = "0.5 K"', key=key).deviation == 0.5


GOOD = (
    "[scatter]",
    "samples = 64",
    "seed = 3",
    'method = "random"',
    "defaults = false",
    "[[scatter.input]]",
    'key = "girder.wall"',
    'part = "leg"',
    'distribution = "normal"',
    'mean = "4 mm"',
    'deviation = "0.04 mm"',
    'low = "3.9 mm"',
    "[[scatter.input]]",
    'key = "girder.holes.sizes.1"',
    'distribution = "triangular"',
    'low = "73 mm"',
    'mode = "74 mm"',
    'high = "75 mm"',
    "[[scatter.input]]",
    'key = "girder.hole_size"',
    'distribution = "lognormal"',
    'median = "0.1 mm"',
    "cov = 0.2",
    "[[scatter.input]]",
    'key = "touchdown.nominal.vertical_speed"',
    'distribution = "table"',
    'values = ["3.4 m/s", "3.5 m/s"]',
    "probabilities = [0.5, 0.5]",
    "[[scatter.input]]",
    'key = "touchdown.1.vertical_speed"',
    'distribution = "table"',
    'values = ["3.4 m/s", "3.5 m/s"]',
    "cumulative = [0.0, 1.0]",
    "[[scatter.input]]",
    'key = "vehicle.mass"',
    'distribution = "samples"',
    'file = "."',
    'column = "wall"',
    'unit = "t"',
    "[[scatter.correlation]]",
    'inputs = ["girder.hole_size", "girder.holes.sizes.1"]',
    "value = 0.4",
)
BITS = [
    *("", "4", '"4 mm"', "true", "[1, 2, 3]", "{}", '"none"', "nan", "-1e400", '"-3 deg"', "[[]]"),
    *('"girder"', '"girder.holes"', '"touchdown"', '"touchdown.0"', '"girder.holes.sizes"'),
    *('"touchdown.0.name.0"', '"..."', '"girder.holes.row.0.size"', '"leg.cant"', '"1e400 mm"'),
    *('"girder.wall_steps.0.wall"', '"leg"', '"95 % limits"', '["1 mm"]', "[]", "[nan, 1.0]"),
    *('"girder.seam.strength_factor"', '"samples"', '"table"', '"1e-300 mm"', "[-1, 2]", "1e-320"),
]


@given(data=st.data())
def test_a_spoilt_table_is_a_case_or_an_input_error(data: st.DataObject) -> None:
    """Any value exchanged, any line lost or doubled: never another error."""
    rows = list(GOOD)
    for _ in range(data.draw(st.integers(1, 4))):
        i = data.draw(st.integers(1, len(rows) - 1))
        key, equals, _ = rows[i].partition(" = ")
        new = f"{key} = {data.draw(st.sampled_from(BITS))}" if equals else rows[i]
        rows[i : i + 1] = data.draw(st.sampled_from([[], [rows[i], rows[i]], [new], [new]]))
    with suppress(InputError):
        read_case_text(template("test-stage") + "\n".join(["", *rows]), "case.toml")


SHEETS = ('distribution = "samples"', 'file = "s.csv"', 'column = "wall"', 'unit = "mm"')
TABLE = ('distribution = "table"', 'values = ["3.9 mm", "4 mm", "4.1 mm"]')


@pytest.mark.parametrize(
    ("rows", "field"),
    [
        ((*SHEETS, 'low = "5 mm"'), "low"),
        ((*SHEETS, 'low = "3.951 mm"', 'high = "3.959 mm"'), "low"),
        ((*SHEETS, 'high = "3.8 mm"'), "high"),
        ((*TABLE, "probabilities = [0.2, 0.5, 0.3]", 'low = "3.95 mm"', 'high = "3.97 mm"'), "low"),
        ((*TABLE, "probabilities = [0.2, 0.5, 0.3]", 'high = "3.8 mm"'), "high"),
        ((*TABLE, "cumulative = [0, 0, 1]", 'high = "3.97 mm"'), "high"),
        ((*TABLE, "cumulative = [0, 0.5, 1]", 'low = "4.5 mm"'), "low"),
    ],
)
def test_cuts_that_leave_no_value_of_a_table_or_of_samples_are_refused(
    complain: Complain, folder: Path, rows: tuple[str, ...], field: str
) -> None:
    (folder / "s.csv").write_text("wall\n" + "".join(f"{3.9 + i / 100:.2f}\n" for i in range(20)))
    (problem,) = complain(text=one(*rows))
    assert f"scatter.input.0.{field}: read cuts that leave 0 % of the distribution" in problem


@pytest.mark.parametrize(
    ("rows", "share"),
    [
        ((*TABLE, "probabilities = [0.2, 0.5, 0.3]", 'low = "4 mm"', 'high = "4 mm"'), None),
        ((*TABLE, "probabilities = [0.2, 0.5, 0.3]", 'low = "4 mm"'), 0.8),
        ((*TABLE, "cumulative = [0, 0.4, 1]", 'low = "3.95 mm"', 'high = "4.05 mm"'), 0.5),
        ((*SHEETS, 'low = "3.95 mm"', 'high = "3.99 mm"'), 0.25),
    ],
)
def test_cuts_keep_the_share_of_a_table_or_of_samples_between_them(
    read: Read, complain: Complain, folder: Path, rows: tuple[str, ...], share: float | None
) -> None:
    (folder / "s.csv").write_text("wall\n" + "".join(f"{3.9 + i / 100:.2f}\n" for i in range(20)))
    if share is None:
        assert "apart from each other" in complain(text=one(*rows))[0]
        return
    assert share_kept(first(read, *rows)) == pytest.approx(share)


@pytest.mark.parametrize(
    ("key", "low", "high", "said"),
    [
        ("girder.material.yield_strength", '"90 MPa"', '"400 MPa"', "can reach -120 MPa; write at"),
        (
            "girder.material.density",
            '"2000 kg/m3"',
            '"20000 kg/m3"',
            "can reach -3900 kg/m3; write",
        ),
        ("model", "0.2", "2.0", "can reach 0.04; write at least 0.05 and at most 20"),
        ("model", "0.8", "5.0", "can reach 25; write at least 0.05 and at most 20"),
    ],
)
def test_both_parts_of_a_strength_or_of_the_model_must_stay_in_its_bounds(
    complain: Complain, key: str, low: str, high: str, said: str
) -> None:
    """90 + 90 less the 300 MPa of the case; factors of the model multiply."""
    rows = ('distribution = "uniform"', f"low = {low}", f"high = {high}")
    again = "\n".join(["[[scatter.input]]", f'key = "{key}"', 'part = "leg"', *rows, ""])
    problems = complain(text=one(*rows, key=key) + again)
    assert len(problems) == 2
    assert all(f"{key} that {said}" in problem for problem in problems)


def test_the_largest_seed_is_said_as_it_is(complain: Complain, read: Read) -> None:
    scatter = read(text=f"{CASE}[scatter]\nseed = 2000000000\n").scatter
    assert scatter is not None
    (problem,) = complain(text=f"{CASE}[scatter]\nseed = 2000000001\n")
    assert "read 2000000001; write at least 0 and at most 2000000000" in problem

"""Units: the closed table, its exact definitions, and every refusal with its text."""

import math
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg.errors import InputError, Problem
from crushleg.unit_table import DISPLAY, UNITS
from crushleg.units import display_unit, express, parse, plain, show


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        # exact definitions: NIST SP 811 (2008), appendix B (from memory)
        ("1 in", "length", 0.0254),
        ("1 ft", "length", 0.3048),
        ("1 lb", "mass", 0.45359237),
        ("1 g0", "acceleration", 9.80665),
        ("1 lbf", "force", 4.4482216152605),
        ("1 kip", "force", 4448.2216152605),
        ("1 mph", "speed", 0.44704),
        ("1 ft-lbf", "energy", 1.3558179483314004),
        ("1 in2", "area", 6.4516e-4),
        ("1 t", "mass", 1000.0),
        ("32 degF", "temperature", 273.15),
        ("-40 degF", "temperature", 233.15),
        ("0 K", "temperature", 0.0),
        # NIST SP 811 gives 6.894757e3 and 2.767990e4 (from memory), to its seven digits
        ("1 psi", "stress", pytest.approx(6.894757e3, rel=1e-7)),
        ("1 lb/in3", "density", pytest.approx(2.767990e4, rel=2e-7)),
        ("180 deg", "angle", math.pi),
        ("3/16 in", "length", 0.0047625),
        ("1 3/16 in", "length", 0.0301625),
        ("-1 1/2 in", "length", -0.0381),
        ("4mm", "length", 0.004),
        ("  4  mm ", "length", 0.004),
        (".5 m", "length", 0.5),
        ("1e3 mm", "length", 1.0),
        ("9 mm", "length", 0.009),
        ("100 1/s", "strain rate", 100.0),
        ("45 %", "number", 0.45),
    ],
)
def test_a_quantity_is_read_in_si(text: str, dimension: str, value: float) -> None:
    assert parse(text, dimension) == value


@pytest.mark.parametrize(
    ("text", "dimension", "message"),
    [
        ("", "length", "read an empty text; write a length in mm, cm, m, in or ft, such as"),
        ("3,0 mm", "length", 'read "3,0 mm", a decimal comma; write "3.0 mm", with a point'),
        ("1,000 mm", "length", 'write "1000 mm" for thousands, or a decimal point'),
        ("3.0 Mm", "length", 'no unit is written "Mm"; write a length'),
        ("3.0 Mm", "length", 'did you mean "3.0 mm"?'),
        ("4", "length", 'a number without a unit; write the unit too: "4 mm"'),
        ("nan mm", "length", "not a finite number"),
        ("inf mm", "length", "not a finite number"),
        ("-Infinity m", "length", "not a finite number"),
        ("1e999 mm", "length", "too large a number"),
        ("1e999999999 mm", "length", "too large a number"),
        ("1e308 GPa", "stress", "too large a number"),
        ("4 mm thick", "length", "more than one number and one unit"),
        ("4 mm in", "length", "more than one number and one unit"),
        ("5 ft 3 in", "length", "more than one number and one unit"),
        ("4 furlongs", "length", 'no unit is written "furlongs"'),
        ("4 kg", "length", 'read "4 kg", a mass; write a length in mm'),
        ("4 m/s", "acceleration", 'read "4 m/s", a speed; write an acceleration in m/s2'),
        ("\u22125 deg", "angle", 'a minus sign of print; write "-5 deg", with a hyphen'),
        ("5 °", "angle", 'did you mean "5 deg"?'),
        ("4 mm²", "area", 'did you mean "4 mm2"?'),
        ("3 m/s^2", "acceleration", 'did you mean "3 m/s2"?'),
        ("9 g", "acceleration", 'did you mean "9 g0"?'),
        ("300 N/mm²", "stress", 'did you mean "300 MPa"?'),
        ("3/16 mm", "length", 'a fraction; write fractions with inches only: "3/16 in"'),
        ("3/0 in", "length", "a fraction over zero"),
        ("mm", "length", "does not begin with a number"),
        ("one mm", "length", "does not begin with a number"),
        ("1_000 mm", "length", 'no unit is written "_000 mm"'),
        ("-300 degC", "temperature", "below absolute zero; write a temperature above 0 K"),
        ("0x10 mm", "length", 'no unit is written "x10 mm"'),
        ("\u0664 mm", "length", "does not begin with a number"),
        ("4" * 100, "length", "read a text of 100 characters"),
    ],
)
def test_a_text_that_is_no_quantity_is_refused_with_what_to_write(
    text: str, dimension: str, message: str
) -> None:
    with pytest.raises(InputError) as caught:
        parse(text, dimension)
    assert message in str(caught.value)
    assert "; write " in str(caught.value)


@pytest.mark.parametrize(
    ("value", "dimension", "system", "text"),
    [
        (0.197, "length", "si", "197 mm"),
        (9.0, "length", "si", "9 m"),
        (0.0047625, "length", "us", "0.188 in"),
        (40_000.0, "mass", "si", "40 t"),
        (584_600.0, "force", "si", "585 kN"),
        (2.0e11, "stress", "si", "200 GPa"),
        (2.0e11, "stress", "us", "29000 ksi"),
        (293.15, "temperature", "si", "20 degC"),
        (0.0, "length", "si", "0 mm"),
        (-0.004, "length", "si", "-4 mm"),
        (0.0999951, "length", "si", "100 mm"),
        (0.45, "number", "si", "0.45"),
    ],
)
def test_a_value_is_shown_with_a_readable_unit(
    value: float, dimension: str, system: str, text: str
) -> None:
    assert show(value, dimension, system) == text


@given(
    value=st.floats(1e-6, 1e9),
    sign=st.sampled_from([1.0, -1.0]),
    dimension=st.sampled_from(sorted(UNITS)),
    system=st.sampled_from(sorted(DISPLAY)),
)
def test_what_is_shown_is_read_back(value: float, sign: float, dimension: str, system: str) -> None:
    value *= 1.0 if dimension == "temperature" else sign
    text = show(value, dimension, system, digits=17)
    assert parse(text, dimension) == pytest.approx(value, rel=1e-12, abs=1e-12)


@given(value=st.floats(1e-6, 1e9), unit=st.sampled_from(["mm", "kip", "ksi", "degF", "deg"]))
def test_a_value_expressed_in_a_unit_is_read_back(value: float, unit: str) -> None:
    dimension = next(kind for kind, units in UNITS.items() if unit in units)
    text = f"{express(value, unit)!r} {unit}"
    assert parse(text, dimension) == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(text=st.text(max_size=90), dimension=st.sampled_from(sorted(UNITS)))
def test_any_text_is_a_number_or_an_input_error(text: str, dimension: str) -> None:
    with suppress(InputError):
        assert math.isfinite(parse(text, dimension))


@given(
    number=st.from_regex(r"[+-]?[0-9]{0,5}[.,/ ]?[0-9]{0,5}(e[+-]?[0-9]{1,9})?", fullmatch=True),
    unit=st.sampled_from([unit for units in UNITS.values() for unit in units] + ["Mm", "mm mm"]),
    dimension=st.sampled_from(sorted(UNITS)),
)
def test_any_near_miss_is_a_number_or_an_input_error(
    number: str, unit: str, dimension: str
) -> None:
    with suppress(InputError):
        assert math.isfinite(parse(f"{number} {unit}", dimension))


def test_no_unit_name_belongs_to_two_dimensions() -> None:
    names = [unit for units in UNITS.values() for unit in units]
    assert len(names) == len(set(names))


def test_every_display_unit_is_in_the_table() -> None:
    for ladders in DISPLAY.values():
        for dimension in UNITS:
            assert all(unit in UNITS[dimension] for _, unit in ladders[dimension])
    assert display_unit(1e3, "force") == "kN"


def test_a_plain_number_keeps_its_significant_digits_without_exponent() -> None:
    assert [plain(x) for x in (123_456.0, 0.000123456, 1e20, math.inf)] == [
        "123000", "0.000123", "1e+20", "inf",
    ]  # fmt: skip


def test_a_problem_names_file_line_field_reading_writing_and_hint() -> None:
    problem = Problem(
        file="a.toml", line=3, field="girder.wall", read="4", write='"4 mm"', hint="perhaps?"
    )
    assert str(problem) == 'a.toml:3: girder.wall: read 4; write "4 mm"; perhaps?'


def test_a_problem_of_usage_has_no_place() -> None:
    assert str(InputError([Problem(read="no verb", write="check")])) == "read no verb; write check"


def test_a_problem_is_one_printable_line() -> None:
    assert str(Problem(read="\x1b[31m\n\udcff")) == "read \ufffd[31m\ufffd\ufffd"


def test_an_error_holds_all_problems_one_per_line() -> None:
    error = InputError([Problem(read="a"), Problem(read="b")])
    assert str(error) == "read a\nread b"
    assert len(error.problems) == 2

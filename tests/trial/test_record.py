"""The record reader: what it finds and says, and each fault with its message."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np
import pytest

from crushleg.errors import InputError
from crushleg.trial.record import read_record
from tests.trial.synthetic import (
    ACCELERATION_TIME,
    FORCE_STROKE,
    FORCE_TIME,
    Drop,
    G,
    drop,
    wavy,
    write_record,
)

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.arrays import FloatArray
    from crushleg.trial.record import Record

STATIC = (
    '[columns]\nstroke = { column = "x", unit = "mm" }\nforce = { column = "F", unit = "kN" }\n'
)
MASS, SPEED = 120.0, 3.96


@pytest.fixture(scope="module")
def crush() -> Drop:
    return drop(wavy(17e3))


def energy_of(crush: Drop) -> float:
    """Work up to the largest stroke, by trapezoids of the record itself."""
    begin, end = int(np.argmax(crush.time >= 0.0)), int(np.argmax(crush.stroke))
    span = slice(begin, end + 1)
    return float(np.trapezoid(crush.force[span], crush.stroke[span]))


def columns_of(crush: Drop, kind: str = "txF", offset: float = 0.0) -> dict[str, FloatArray]:
    noise = 0.02 * np.random.default_rng(7).standard_normal(len(crush.time))
    every = {
        "t": 1e3 * crush.time,
        "x": 1e3 * crush.stroke,
        "F": crush.force / 1e3 + offset + noise,
        "a": crush.force / MASS / G + offset + noise,
    }
    return {key: every[key] for key in kind}


def only(path: Path, *options: str) -> Record:
    (record,) = read_record(path, options)
    return record


def said(record: Record) -> str:
    return "\n".join((*record.done, *record.cautions))


def complaint(path: Path, *options: str) -> str:
    with pytest.raises(InputError) as caught:
        read_record(path, options)
    return str(caught.value)


# ---------------------------------------------------------------- what comes out


def test_force_and_stroke_give_the_energy_of_the_drop(tmp_path: Path, crush: Drop) -> None:
    record = only(write_record(tmp_path / "d.csv", columns_of(crush), FORCE_STROKE))
    assert record.kind == "force-stroke"
    assert record.stroke[-1] == pytest.approx(crush.stroke.max(), abs=2e-4)
    assert record.energy[-1] == pytest.approx(energy_of(crush), rel=5e-3)
    assert "100 % of it" in said(record) or "99." in said(record)


@pytest.mark.parametrize(("kind", "toml"), [("tF", FORCE_TIME), ("ta", ACCELERATION_TIME)])
def test_force_or_acceleration_alone_is_integrated_to_the_same_stroke(
    tmp_path: Path, crush: Drop, kind: str, toml: str
) -> None:
    record = only(write_record(tmp_path / "d.csv", columns_of(crush, kind, 0.3), toml))
    assert record.stroke[-1] == pytest.approx(crush.stroke.max(), rel=5e-3)
    assert record.energy[-1] == pytest.approx(energy_of(crush), rel=5e-3)
    assert "left at rest" in said(record)


def test_without_an_impact_speed_it_comes_from_the_momentum_up_to_rest(
    tmp_path: Path, crush: Drop
) -> None:
    toml = FORCE_TIME.replace("impact_speed", "# impact_speed")
    record = only(write_record(tmp_path / "d.csv", columns_of(crush, "tF"), toml))
    assert record.impact_speed == pytest.approx(SPEED, rel=3e-3)
    assert "from the momentum" in said(record)


def test_an_offset_of_the_acceleration_is_drift_and_is_taken_off(
    tmp_path: Path, crush: Drop
) -> None:
    """No samples before contact: the offset of 2 % of the mean stays in, as a drift of 0.45 m/s."""
    after = crush.time >= 0.0
    columns = {"t": 1e3 * crush.time[after], "F": crush.force[after] / 1e3 + 0.36}
    record = only(write_record(tmp_path / "d.csv", columns, FORCE_TIME))
    assert "fewer than 10 samples before contact" in said(record)
    assert "was left at rest" in said(record)
    assert record.stroke[-1] == pytest.approx(crush.stroke.max(), rel=0.01)


def test_a_record_that_ends_before_rest_says_that_drift_cannot_be_seen(
    tmp_path: Path, crush: Drop
) -> None:
    early = crush.time < 0.02
    cut = Drop(crush.time[early], crush.stroke[early], crush.force[early])
    record = only(write_record(tmp_path / "d.csv", columns_of(cut, "tF"), FORCE_TIME))
    assert "drift of the integration cannot be seen" in said(record)
    assert "before the stop" in said(record)
    toml = FORCE_TIME.replace("impact_speed", "# impact_speed")
    assert "impact_speed" in complaint(
        write_record(tmp_path / "e.csv", columns_of(cut, "tF"), toml)
    )


def test_zero_sign_and_trigger_are_found_and_told(tmp_path: Path, crush: Drop) -> None:
    columns = columns_of(crush, offset=0.8)
    columns = {"t": columns["t"] + 5000.0, "x": 300.0 - columns["x"], "F": -columns["F"]}
    record = only(write_record(tmp_path / "d.csv", columns, FORCE_STROKE))
    assert "force is negative in compression: sign turned" in said(record)
    assert re.search(r"zero -(79|80)\d N taken off", said(record))
    assert "stroke falls while the girder is crushed: sign turned" in said(record)
    assert "contact at 5000" in said(record)
    assert record.energy[-1] == pytest.approx(energy_of(crush), rel=6e-3)


def test_a_trigger_given_as_time_or_force_is_where_contact_begins(
    tmp_path: Path, crush: Drop
) -> None:
    path = write_record(tmp_path / "d.csv", columns_of(crush), FORCE_STROKE)
    assert "contact at 1 ms" in said(only(path, "trigger=1 ms"))
    assert "contact at 0 ms" in said(only(path, "trigger=5 kN"))
    assert "trigger" in complaint(path, "trigger=5 kg")
    assert "inside the record" in complaint(path, "trigger=90 s")


def test_gaps_and_missing_samples_are_counted_and_bridged(tmp_path: Path, crush: Drop) -> None:
    columns = columns_of(crush)
    path = write_record(tmp_path / "d.csv", columns, FORCE_STROKE)
    lines = path.read_text(encoding="utf-8").splitlines()
    begin = lines.index(next(line for line in lines if line.startswith("10,")))
    lines[begin] = lines[begin].rsplit(",", 1)[0] + ",NaN"
    del lines[begin + 100 : begin + 160]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    record = only(path)
    assert f"1 of {len(columns['t']) - 60} samples left out" in said(record)
    assert f"the first in line {begin + 1}" in said(record)
    assert "2 gap(s), 61 samples missing" in said(record)
    assert "% of the energy lies in gaps" in said(record)
    assert record.energy[-1] == pytest.approx(energy_of(crush), rel=0.01)


def test_uneven_sampling_gives_the_same_energy(tmp_path: Path, crush: Drop) -> None:
    keep = np.sort(np.random.default_rng(1).permutation(len(crush.time))[: len(crush.time) // 2])
    thin = Drop(*(values[keep] for values in crush))
    record = only(write_record(tmp_path / "d.csv", columns_of(thin), FORCE_STROKE))
    assert "sampling is uneven" in said(record)
    assert record.energy[-1] == pytest.approx(energy_of(crush), rel=5e-3)


def test_time_that_runs_backward_throughout_is_turned_round(tmp_path: Path, crush: Drop) -> None:
    columns = {key: values[::-1] for key, values in columns_of(crush).items()}
    record = only(write_record(tmp_path / "d.csv", columns, FORCE_STROKE))
    assert "turned round" in said(record)
    assert record.energy[-1] == pytest.approx(energy_of(crush), rel=5e-3)


def test_the_mass_below_the_cell_adds_its_inertia(tmp_path: Path, crush: Drop) -> None:
    """With 12 of 120 kg below it the cell reads 0.9 of the force on the girder."""
    columns = columns_of(crush)
    columns["F"] = 0.9 * columns["F"]
    path = write_record(tmp_path / "d.csv", columns, FORCE_STROKE)
    record = only(path, "mass_below=12 kg")
    assert record.energy[-1] == pytest.approx(energy_of(crush), rel=5e-3)
    assert "inertia of 12 kg below the cell added" in said(record)
    assert "mass_below" in complaint(path, "mass_below=120 kg")


def test_legs_in_columns_and_legs_named_by_a_column_are_the_same(
    tmp_path: Path, crush: Drop
) -> None:
    columns = columns_of(crush)
    wide = {"t": columns["t"], "x": columns["x"], "F1": columns["F"], "F2": 1.1 * columns["F"]}
    toml = (
        '[columns]\ntime = { column = "t", unit = "ms" }\nstroke = { column = "x", unit = "mm" }\n'
        '[[leg]]\nname = "A"\nforce = { column = "F1", unit = "kN" }\n'
        '[[leg]]\nname = "B"\nforce = { column = "F2", unit = "kN" }\n'
    )
    first = read_record(write_record(tmp_path / "w.csv", wide, toml))
    count = len(columns["t"])
    long = {key: np.tile(values, 2) for key, values in columns.items()}
    long["F"][count:] *= 1.1
    path = write_record(tmp_path / "l.csv", long, FORCE_STROKE + 'leg = "leg"\n')
    head, *rows = path.read_text(encoding="utf-8").splitlines()
    rows = [f"{row},{'A' if i < count else 'B'}" for i, row in enumerate(rows)]
    path.write_text("\n".join([f"{head},leg", *rows]) + "\n", encoding="utf-8")
    second = read_record(path)
    assert [record.leg for record in first] == [record.leg for record in second] == ["A", "B"]
    for one, other in zip(first, second, strict=True):
        assert one.energy[-1] == pytest.approx(other.energy[-1], rel=1e-6)
    assert first[1].energy[-1] == pytest.approx(1.1 * first[0].energy[-1], rel=1e-3)


def test_several_legs_under_one_mass_move_alike_when_the_stroke_is_integrated(
    tmp_path: Path, crush: Drop
) -> None:
    columns = columns_of(crush, "tF")
    wide = {"t": columns["t"], "F1": 0.4 * columns["F"], "F2": 0.6 * columns["F"]}
    toml = (
        'mass = "120 kg"\nimpact_speed = "3.96 m/s"\n'
        '[columns]\ntime = { column = "t", unit = "ms" }\n'
        '[[leg]]\nname = "A"\nforce = { column = "F1", unit = "kN" }\n'
        '[[leg]]\nname = "B"\nforce = { column = "F2", unit = "kN" }\n'
    )
    found = read_record(write_record(tmp_path / "w.csv", wide, toml))
    assert found[0].stroke[-1] == pytest.approx(crush.stroke.max(), rel=5e-3)
    assert found[1].energy[-1] == pytest.approx(0.6 * energy_of(crush), rel=0.01)


def test_a_press_test_needs_no_time(tmp_path: Path) -> None:
    x = np.linspace(0.0, 80.0, 801)
    force = 20.0 + 3.0 * np.cos(2.0 * np.pi * x / 20.0)
    record = only(write_record(tmp_path / "p.csv", {"x": x, "F": force}, STATIC))
    assert record.energy[-1] == pytest.approx(1600.0, rel=1e-3)
    assert "no time: not filtered" in said(record)
    assert record.impact_speed is None


def test_any_class_is_applied_and_one_that_sampling_cannot_give_is_refused(
    tmp_path: Path, crush: Drop
) -> None:
    path = write_record(tmp_path / "d.csv", columns_of(crush), FORCE_STROKE)
    peaks = [only(path, f"filter_class={c}").force.max() for c in (60, 180, 600, 1000, 333)]
    assert peaks[0] < peaks[1] < peaks[2] < peaks[3]
    text = complaint(path, "filter_class=5000")
    assert "class 5000 needs 50 kHz, sampled at 20 kHz" in text
    assert "at most 2000" in text
    assert "not filtered, as asked" in said(only(path, "filter_class=0"))


def test_too_slow_a_record_for_the_usual_class_is_left_as_it_is_and_says_so(
    tmp_path: Path,
) -> None:
    slow = drop(wavy(17e3), rate=1000.0)
    record = only(write_record(tmp_path / "d.csv", columns_of(slow), FORCE_STROKE))
    assert record.filter_class is None
    assert "not filtered: class 180 needs 1.8 kHz, sampled at 1 kHz" in said(record)


@pytest.mark.parametrize("kind", ["txF", "ta"])
def test_a_flat_top_is_saturation(tmp_path: Path, crush: Drop, kind: str) -> None:
    columns = columns_of(crush, kind)
    name = kind[-1]
    columns[name] = np.minimum(columns[name], 0.9 * columns[name].max())
    toml = FORCE_STROKE if name == "F" else ACCELERATION_TIME
    path = write_record(tmp_path / "d.csv", columns, toml)
    record = only(path)
    assert record.saturated
    assert not record.usable
    assert "saturated; peak and energy are lower bounds" in said(record)
    assert only(path, "accept_saturated=true").usable


def test_a_stroke_channel_that_ends_before_the_stroke_is_told(tmp_path: Path, crush: Drop) -> None:
    columns = columns_of(crush)
    columns["x"] = np.minimum(columns["x"], 40.0)
    record = only(write_record(tmp_path / "d.csv", columns, FORCE_STROKE))
    assert "stroke stops at its largest all at once" in said(record)


# ---------------------------------------------------------------- faults of the file

HEAD = "t,x,F\n"
ROWS = "".join(f"{0.05 * i:g},{0.2 * i:g},{20 + 5 * (i % 7)}\n" for i in range(60))


def written(folder: Path, text: str | bytes, toml: str = FORCE_STROKE) -> Path:
    path = folder / "d.csv"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    path.with_suffix(".toml").write_text(toml, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("", ["d.csv", "an empty file"]),
        ("\n\n", ["an empty file"]),
        (HEAD, ["no numbers below"]),
        (HEAD.strip(), ["no numbers below"]),
        (HEAD + ROWS + "3,12 kN,4\n", ["d.csv:62: x", '"12 kN"', "units stand in the TOML"]),
        (HEAD + "1,abc,4\n" + ROWS, ["d.csv:2: x", '"abc"', "a number such as"]),
        (HEAD + "1,2\n,5,4\n" + ROWS.replace(",", ",,", 1), ["d.csv:4", "4 fields where 3"]),
        (HEAD + '1,"2,5",4\n' + ROWS, ["d.csv:2", "4 fields where 3"]),
        ("t,F,x\n" + "0,5,1,5,2,0\n" * 30, ["d.csv:2", "6 fields", "decimal commas?"]),
        ("t;x;F\n0,5;1;2\n" + ROWS.replace(",", ";"), ["d.csv:2: t", '"0,5"', 'decimal = ","']),
        ("t,y,F\n" + ROWS, ["d.toml:5: stroke", '"x", which is no column', "t, y, F"]),
        ("t,x,F,x\n" + ROWS.replace("\n", ",1\n"), ["two columns are called"]),
        ("t [s],x,F\n" + ROWS, ["time", "no column", "did you mean"]),
        (HEAD + "ms,m,kN\n" + ROWS, ["d.toml:5: stroke.unit", '"mm"', 'the CSV says "m"']),
        (ROWS, ["numbers where column names are due"]),
        (HEAD + "5,1,2\n4,1,2\n" + ROWS, ["d.csv:3", "time that goes back"]),
        (HEAD + "1,2,3\n" * 40, ["different instants"]),
        (HEAD + "1,2,3\n2,3,4\n", ["2 whole samples", "at least 10"]),
        (HEAD + "".join(f"{i},,{i}\n" for i in range(30)), ["no number at all", "stroke"]),
        (b"\xff\xfet\x00,\x00", ["UTF-16"]),
        (b"t,x,F\n1,2,\xb5\n", ["d.csv:2", "byte 0xb5", "UTF-8"]),
    ],
    ids=range(21),
)
def test_a_fault_is_told_with_its_place_and_what_to_write(
    tmp_path: Path, text: str | bytes, parts: list[str]
) -> None:
    told = complaint(written(tmp_path, text))
    assert [part for part in parts if part not in told] == []


@pytest.mark.parametrize(
    ("toml", "parts"),
    [
        (FORCE_STROKE.replace("kN", "kg"), ["d.toml:6", "force.unit", '"kg"', '"N", "kN"']),
        (FORCE_STROKE.replace("kN", "klbf"), ['did you mean "kip"']),
        (FORCE_STROKE.replace("mass", "mas"), ["d.toml:1", "did you mean", "mass"]),
        (FORCE_STROKE.replace("120 kg", "120"), ["d.toml:1: mass", "unit"]),
        (FORCE_STROKE.replace("3.96 m/s", "3.96 km"), ["d.toml:2: impact_speed"]),
        (FORCE_STROKE.replace("[columns]", "[colums]"), ["no columns", "did you mean"]),
        (FORCE_STROKE.replace('column = "F", ', ""), ["d.toml:6", "no column", "its name"]),
        (FORCE_STROKE.replace("force", "# "), ["time and stroke alone", "force with stroke"]),
        (FORCE_STROKE.replace('{ column = "F", unit = "kN" }', '"F"'), ["d.toml:6", "force = {"]),
        (FORCE_TIME.replace("mass", "# "), ["mass", "integrated from force over mass"]),
        ("", ["without any key"]),
        ("filter_class = -5\n" + FORCE_STROKE, ["filter_class", "at least 0"]),
        ('trigger = "soon"\n' + FORCE_STROKE, ["trigger", '"soon"', "a force such as"]),
    ],
    ids=range(13),
)
def test_a_fault_of_the_toml_is_told_with_its_line(
    tmp_path: Path, toml: str, parts: list[str]
) -> None:
    told = complaint(written(tmp_path, HEAD + ROWS, toml))
    assert [part for part in parts if part not in told] == []


def test_a_record_without_a_toml_says_what_to_write(tmp_path: Path) -> None:
    path = tmp_path / "d.csv"
    path.write_text(HEAD + ROWS, encoding="utf-8")
    assert "no d.toml beside it" in complaint(path)
    assert "no such file" in complaint(tmp_path / "none.csv")
    assert "a folder" in complaint(tmp_path)


def test_options_say_what_a_toml_would(tmp_path: Path, crush: Drop) -> None:
    path = write_record(tmp_path / "d.csv", columns_of(crush), "")
    path.with_suffix(".toml").unlink()
    options = ["columns.time.column=t", "columns.time.unit=ms", "columns.force.column=3"]
    options += ["columns.force.unit=kN", 'columns.stroke={ column = "x", unit = "mm" }']
    assert only(path, *options).energy[-1] == pytest.approx(energy_of(crush), rel=5e-3)
    wrong = [option.replace("kN", "kg") for option in options]
    assert "--record columns.force" in complaint(path, *wrong)


def test_units_in_brackets_must_be_those_of_the_toml(tmp_path: Path) -> None:
    text = "t,x,F (N)\n" + ROWS
    toml = FORCE_STROKE.replace('"F"', '"F (N)"')
    assert 'the CSV says "N" for F (N)' in complaint(written(tmp_path, text, toml))
    right = toml.replace("kN", "N")
    assert only(written(tmp_path, text, right)).kind == "force-stroke"


def test_byte_order_mark_comments_decimal_commas_and_units_line_are_read(
    tmp_path: Path,
) -> None:
    rows = ROWS.replace(",", ";").replace(".", ",")
    text = "\ufeff# drop tower 2\n# run 4\nt;x;F;\nms;mm;kN;\n" + rows.replace("\n", ";\n")
    record = only(written(tmp_path, text, 'decimal = ","\n' + FORCE_STROKE))
    assert "2 lines above the column names were not read" in said(record)
    assert "line 4 taken as a line of units: ms, mm, kN" in said(record)
    plain = only(written(tmp_path, HEAD + ROWS))
    assert record.energy[-1] == pytest.approx(plain.energy[-1], rel=1e-12)


def test_nothing_is_left_out_without_a_count(tmp_path: Path) -> None:
    text = HEAD + "-1,0,nan\n-0.9,0,inf\n\n-0.8,0\n" + ROWS + "\n\n"
    told = said(only(written(tmp_path, text)))
    assert "1 blank lines, the first line 4" in told
    assert "1 lines with too few fields, the first line 5" in told
    assert "samples left out" in told
    assert "the first in line 2" in told


def test_repeated_instants_are_merged_and_counted(tmp_path: Path) -> None:
    lines = ROWS.splitlines()
    text = HEAD + "\n".join([*lines[:30], lines[29], *lines[30:]]) + "\n"
    told = said(only(written(tmp_path, text)))
    assert "1 samples at the instant of the one before, the first in line 32: merged" in told


def test_a_preamble_without_hashes_is_passed_by_the_line_of_the_names(tmp_path: Path) -> None:
    text = "Drop tower;2\nRun;4\n" + HEAD + ROWS
    assert "no column" in complaint(written(tmp_path, text))
    record = only(written(tmp_path, text, "header_line = 3\n" + FORCE_STROKE))
    assert "2 lines above" in said(record)


def test_a_long_record_is_read_whole(tmp_path: Path, crush: Drop) -> None:
    fine = np.linspace(crush.time[0], crush.time[-1], 60_000)
    dense = Drop(fine, *(np.interp(fine, crush.time, v) for v in (crush.stroke, crush.force)))
    record = only(write_record(tmp_path / "d.csv", columns_of(dense), FORCE_STROKE))
    assert "60000 samples" in said(record)
    assert record.energy[-1] == pytest.approx(energy_of(crush), rel=5e-3)


@pytest.mark.parametrize(
    ("option", "parts"),
    [
        ("columns.time.unit=s", ["the stroke rises at", "unit of time or stroke?"]),
        ("impact_speed=8 m/s", ["the stroke rises at", "mass, speed, units"]),
        ("mass=60 kg", ["mass, speed, units or what else took energy?"]),
        ("columns.force.unit=N", ["mass, speed, units or what else took energy?"]),
    ],
)
def test_channels_that_do_not_fit_together_are_told(
    tmp_path: Path, crush: Drop, option: str, parts: list[str]
) -> None:
    path = write_record(tmp_path / "d.csv", columns_of(crush), FORCE_STROKE)
    assert not only(path).cautions
    told = "\n".join(only(path, option).cautions)
    assert [part for part in parts if part not in told] == []


def test_a_trigger_force_is_one_over_the_mass_for_an_accelerometer(tmp_path: Path) -> None:
    """2 kN/mm from contact at 3.96 m/s: 5 kN at 2.5 mm, 0.63 ms; the sample before it counts."""
    crush = drop(lambda x: min(2e6 * x, 2e4))
    columns = columns_of(crush, "ta")
    path = write_record(tmp_path / "a.csv", columns, ACCELERATION_TIME)
    assert "contact at 0.6 ms" in said(only(path, "trigger=5 kN"))


@pytest.mark.parametrize(("rate", "told"), [(20e3, False), (1000.0, True)])
def test_a_contact_between_two_far_samples_is_told(tmp_path: Path, rate: float, told: bool) -> None:
    """3.96 mm a sample at 1 kHz: half of it under 20 kN is 40 J of about 1 kJ."""
    fall = drop(wavy(17e3), rate=rate)
    columns = {"t": 1e3 * fall.time, "x": 1e3 * fall.stroke, "F": fall.force / 1e3}
    record = read_record(write_record(tmp_path / "d.csv", columns, FORCE_STROKE))[0]
    assert any("jumps between two samples" in one for one in record.cautions) is told

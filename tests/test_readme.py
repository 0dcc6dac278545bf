"""The README says what the code does: keys, units, report, and our values beside others."""

from __future__ import annotations

import argparse
import dataclasses
import math
import re
import shlex
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from scipy.optimize import brentq

from crushleg import cli
from crushleg.case import assume, datasheet, drafting, girder_drafting, holes, records
from crushleg.case.fields import SPEC, Spec, specs
from crushleg.cautions import SCREENING
from crushleg.design.yardsticks import circular_tube_force
from crushleg.girder.buckling import FREE_EDGE, STIFFENED, holed_width, plain_width
from crushleg.girder.crossing import Hole
from crushleg.girder.hinges import corner_share, hinge_share, sweep_share
from crushleg.girder.modes import asymmetric_ratio, extensional_ratio, plain_fold, symmetric_ratio
from crushleg.girder.wave import decay
from crushleg.landing.back_calculation import speed_from_crush
from crushleg.landing.crush_plane import plane_of_legs
from crushleg.landing.energy import stop, swept_peak, work_against
from crushleg.landing.first_leg import effective_mass, rotation_per_impulse
from crushleg.landing.ideal import constant_force_stop, drop_height
from crushleg.landing.leg import sliding_leg
from crushleg.landing.motion.run import run
from crushleg.landing.tip_over import after_crush, critical_speed, edge_distance
from crushleg.scatter.tolerance import least_landings, tolerance_factor
from crushleg.trial.record_keys import RecordKeys
from crushleg.trial.rig import contact_speed, effective_weight, equivalent_mass
from crushleg.unit_table import UNITS
from crushleg.units import express, show
from tests.landing.motion.setups import ends_after, even, flat, touching, vehicle
from tests.samples import EXACT, crushed, energy_at, girder, mm

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from crushleg.girder.crush import Crush

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
FIGURES = ROOT / "examples" / "figures"
EARTH, MOON, MARS = 9.80665, 1.62, 3.71


def section(heading: str) -> str:
    """Text under a heading, down to the next one of any level."""
    found = re.search(rf"^#+ {re.escape(heading)}$(.*?)(?=^#+ |\Z)", README, re.M | re.S)
    assert found, f"no heading {heading!r}"
    return found.group(1)


def rows_of(text: str) -> list[list[str]]:
    """Cells of the table in a text, without its head."""
    lines = [line for line in text.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


# ---------------------------------------------------------------- the case reference

GIRDER_LEFT_OUT = {
    "depth": "`width`",
    "wall_tolerance": f"{100 * assume.WALL_TOLERANCE:g} % of `wall`",
    "hole_tolerance": show(assume.HOLE_TOLERANCE, "length"),
    "corner_radius": f"{assume.CORNER_WALLS:g} × `wall`",
    "crest_ratio": str([getattr(assume.CREST_RATIO, k) for k in ("low", "nominal", "high")]),
    "temperature": show(assume.ROOM_TEMPERATURE, "temperature"),
}
LEFT_OUT = {"free_length": "`girder.length`"}
TABLES = {
    "[vehicle]": records.Vehicle,
    "[leg]": records.Leg,
    "[girder]": records.Girder,
    "[[girder.wall_steps]]": records.WallStep,
    "[girder.seam]": records.Seam,
    "[girder.measured]": records.Measured,
    "[[girder.holes.row]]": records.Row,
    "[[touchdown]]": records.Touchdown,
    "[[standing]]": records.Standing,
    "[limits]": records.Limits,
    "[factors]": records.Factors,
    "[ground]": records.Ground,
    "[rig]": records.Rig,
    "[stock]": records.OwnStock,
    "[[scheme]]": records.Scheme,
    "[scatter]": records.Scatter,
    "[[scatter.input]]": records.ScatterInput,
    "[[scatter.correlation]]": records.ScatterCorrelation,
    "Correlation file": records.Correlation,
    "Record file": RecordKeys,
}


def bounds(spec: Spec) -> str:
    """Bounds of a field, in the unit a user would write."""
    if spec.choices:
        return ", ".join(f"`{choice}`" for choice in spec.choices)
    limits = ((">", spec.above), ("≥", spec.at_least), ("<", spec.below), ("≤", spec.at_most))
    return ", ".join(f"{sign} {amount(v, spec)}" for sign, v in limits if math.isfinite(v))


def amount(value: float, spec: Spec) -> str:
    """Value of a field with its unit; zero needs none."""
    if spec.kind.startswith("angle") and " " not in spec.kind and value:
        return f"{express(value, 'deg'):g} deg"
    if spec.kind not in UNITS or spec.kind == "number" or value == 0.0:
        return f"{value:g}"
    return show(value, spec.kind, digits=6)


def default_of(value: Any, spec: Spec) -> str:
    """Value a field has when it is left out."""
    if value is dataclasses.MISSING:
        return "required"
    if value is None:
        return "none"
    if isinstance(value, bool):
        return str(value).lower()
    return f"`{value}`" if isinstance(value, str) else amount(value, spec)


def expected(record: type) -> Iterator[list[str]]:
    """Key, kind, bounds and default of every field of a record."""
    defaults = {
        item.metadata[SPEC].key or item.name: item.default
        for item in dataclasses.fields(record)
        if SPEC in item.metadata
    }
    for key, spec, _ in specs(record):
        left_out = default_of(defaults[key], spec)
        if record is records.Girder:
            left_out = GIRDER_LEFT_OUT.get(key, left_out)
        yield [f"`{key}`", spec.kind, bounds(spec), LEFT_OUT.get(key, left_out)]


@pytest.mark.parametrize("heading", list(TABLES))
def test_every_key_stands_in_the_reference_with_kind_bounds_and_default(heading: str) -> None:
    printed = rows_of(section(heading))
    keys = {row[0] for row in printed}
    for row in expected(TABLES[heading]):
        assert row in [cells[:4] for cells in printed]
        keys.discard(row[0])
    assert keys == (
        {f"`{k}`" for k in girder_drafting.IN_GIRDER} if heading == "[girder]" else set()
    )
    assert all(len(cells) == 5 and cells[4] for cells in printed)


def test_a_girder_key_that_is_derived_when_left_out_is_not_called_required() -> None:
    assert set(GIRDER_LEFT_OUT) == set(assume.GIRDER_DEFAULTS)


def test_head_of_the_file_stands_in_the_reference() -> None:
    printed = {row[0]: row[3] for row in rows_of(section("Top of the file"))}
    assert set(printed) == {f"`{key}`" for key, _, _ in drafting.HEAD}
    for key, _, required in drafting.HEAD:
        assert (printed[f"`{key}`"] == "required") is required


def test_grading_laws_and_their_keys_stand_in_the_reference() -> None:
    printed = {row[0]: row[1:] for row in rows_of(section("[girder.holes]"))}
    laws = {f"`{name}`" for name in holes.LAW_NAMES}
    assert set(re.findall(r"`\w[\w-]*`", printed["`law`"][1])) == laws
    for key, (spec, value) in holes.COMMON.items():
        assert printed[f"`{key}`"][:3] == [spec.kind, bounds(spec), default_of(value, spec)]
    own = {key: spec for keys in holes.LAWS.values() for key, spec in keys.items()}
    for key, spec in own.items():
        users = [f"`{law}`" for law, keys in holes.LAWS.items() if key in keys]
        wanted = [spec.kind, bounds(spec), "required by " + ", ".join(users)]
        assert printed[f"`{key}`"][:3] == wanted
    graded = {"law", "first", "row_pitch", "sizes", "size_along"}
    assert set(printed) == {f"`{key}`" for key in {*holes.COMMON, *own, *graded}}


def test_keys_of_a_datasheet_stand_in_its_reference() -> None:
    text = section("Material datasheets")
    keys = [
        *(key for key, _, _ in datasheet.HEAD),
        *datasheet.VALUES,
        *(key for key, _, _ in datasheet.RATE),
    ]
    assert [key for key in keys if not re.search(rf"`\[?{key}\b", text)] == []
    required = next(line for line in text.splitlines() if line.startswith("Required: "))
    wanted = {f"`{key}`" for key, _, needed in datasheet.HEAD if needed}
    wanted |= {f"`[{key}]`" for key, value in datasheet.VALUES.items() if value.required}
    assert set(re.findall(r"`\[?\w+\]?`", required)) == wanted


def test_every_unit_stands_in_the_table_of_units() -> None:
    printed = {row[0]: row[1] for row in rows_of(section("Units"))}
    assert printed == {
        kind: ", ".join(f"`{unit}`" for unit in units if unit) + (" or none" if "" in units else "")
        for kind, units in UNITS.items()
    }


# ---------------------------------------------------------------- what a reader copies


def test_the_job_is_the_first_paragraph_and_the_caution_is_in_its_own() -> None:
    paragraphs = [p for p in README.split("\n\n") if not p.startswith("#")]
    assert "`crushleg` computes" in paragraphs[0]
    assert SCREENING in section("Cautions").replace("\n", " ")


def extracts() -> dict[str, list[str]]:
    """Find the printed lines in the README, by the command named before them."""
    found: dict[str, list[str]] = {}
    text = README.partition("\n## Python\n")[0]
    for fence in re.finditer(r"^```text\n(.*?)^```", text, re.M | re.S):
        named = re.findall(r"[Ff]rom `(\w+ [^`]+)`", text[: fence.start()])
        command = [one for one in named if one.split()[0] in cli.VERBS][-1]
        lines = [line.strip() for line in fence.group(1).splitlines()]
        found.setdefault(command, []).extend(filter(None, lines))
    return found


def quick_or_marked(command: str) -> Any:
    """Leave a command that takes seconds to the marked tests."""
    slow = command.startswith(("size ", "land ", "scatter "))
    return pytest.param(command, marks=pytest.mark.evidence) if slow else command


@pytest.mark.parametrize("command", [quick_or_marked(command) for command in extracts()])
def test_every_line_of_an_extract_is_printed_by_its_command(
    command: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    monkeypatch.chdir(ROOT)
    verb, *arguments = shlex.split(command)
    out = ["--out", str(tmp_path)]
    quick = {"drill": ["--paper", "none", *out], "explain": []}
    code = cli.main([verb, *arguments, *quick.get(verb, ["--no-plots", *out])])
    assert code in (cli.PASSED, cli.NEGATIVE)
    printed = {line.strip() for line in capsys.readouterr().out.splitlines()}
    assert [line for line in extracts()[command] if line not in printed] == []


def test_every_verb_with_a_report_shows_an_extract_of_it() -> None:
    shown = {command.split()[0]: len(lines) for command, lines in extracts().items()}
    assert set(shown) == set(cli.VERBS) - {"materials", "begin"}
    assert shown["check"] > 20
    assert min(shown.values()) >= 3


def commands() -> list[list[str]]:
    """Arguments of every command of the tool that the README tells to type."""
    shell = "\n".join(re.findall(r"```sh\n(.*?)```", README, re.S))
    written = re.findall(r"\bcrushleg ([^>\n]+)", shell)
    return [shlex.split(arguments, comments=True) for arguments in written]


def test_commands_of_the_readme_are_commands_of_the_tool() -> None:
    assert {verb for verb, *_ in commands()} == set(cli.VERBS)
    for arguments in commands():
        cli.parser().parse_args(arguments)
        files = [name for name in arguments if name.startswith("examples/")]
        assert [name for name in files if not (ROOT / name).exists()] == []


def verbs() -> dict[str, argparse.ArgumentParser]:
    """Parser of every verb."""
    (choices,) = (
        action.choices
        for action in cli.parser()._actions
        if isinstance(action, argparse._SubParsersAction)
    )
    return dict(choices)


def options_of(verb: str) -> set[str]:
    """Long options of a verb, without that of its help."""
    return {name for name in verbs()[verb]._option_string_actions if name.startswith("--")} - {
        "--help"
    }


def test_every_verb_stands_in_the_list_of_commands() -> None:
    listed = rows_of(section("All commands").partition("| option |")[0])
    assert sorted(row[0] for row in listed) == sorted(f"`{verb}`" for verb in cli.VERBS)


SHARED = {
    *("--set", "--out", "--no-plots", "--json", "--csv"),
    *("--html", "--pdf", "--paper", "--units", "--quiet"),
}
OWN = {"drill": {"--paper"}}
"""Options of a verb that mean something else there."""


@pytest.mark.parametrize("verb", sorted(set(cli.VERBS) - {"check", "materials", "begin"}))
def test_the_chapter_of_a_verb_lists_its_own_options_and_no_other(verb: str) -> None:
    found = re.search(rf"^## `{verb}`: .*?(?=^## |\Z)", README, re.M | re.S)
    assert found, f"no chapter of {verb}"
    rows = [line for line in found.group().splitlines() if line.startswith("| `--")]
    listed = {name for row in rows for name in re.findall(r"`(--[a-z-]+)", row.split(" | ")[0])}
    assert listed == options_of(verb) - (SHARED - OWN.get(verb, set()))
    written = set(re.findall(r"(?<![\w-])--[a-z]+(?:-[a-z]+)*", found.group()))
    known = set.union(*map(options_of, cli.VERBS))
    assert written <= known


def test_shared_options_stand_with_the_commands() -> None:
    listed = set(re.findall(r"^\| `(--[a-z-]+)", section("All commands"), re.M))
    assert listed == SHARED == options_of("check")


def test_the_python_example_runs(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    code, shown = re.findall(r"```(?:python|text)\n(.*?)```", section("Python"), re.S)
    exec(code, {})
    assert capsys.readouterr().out == shown


def test_links_and_figures_exist_and_are_small() -> None:
    links = re.findall(r"\]\(([^)#:]+)\)", README)
    assert links
    assert [link for link in links if not (ROOT / link).exists()] == []
    for figure in FIGURES.iterdir():
        assert figure.stat().st_size <= 300_000, figure.name


def test_the_sketch_is_well_formed_and_its_keys_are_keys() -> None:
    drawing = ET.parse(FIGURES / "girder-sketch.svg").getroot()
    drawn = {e.text for e in drawing.iter() if e.get("class", "").split()[:1] == ["key"]}
    known = {key for record in TABLES.values() for key, _, _ in specs(record)}
    assert {"cant", "length", "free_length", "wall", "corner_radius", "height"} <= drawn
    assert drawn - known == {"first", "row_pitch"}


# ---------------------------------------------------------------- our values beside others


@cache
def tube(wall: float) -> Crush:
    """Crush of a simulated tube: mid-line side 80 mm, wall in mm."""
    side = (80 + wall) * mm
    fields: dict[str, float] = {"width": side, "depth": side, "wall": wall * mm, "length": 0.25}
    exact = dict.fromkeys(("corner_radius", "wall_tolerance", "hole_tolerance"), 0.0)
    return crushed(girder(material=EXACT, **fields, **exact))


def tube_force(wall: float) -> float:
    result = tube(wall)
    return float(result.curve.energy[1, 0, -1] / result.usable[0]) / 1e3


def tube_energy(wall: float, stroke: float) -> float:
    return float(energy_at(tube(wall), np.array([stroke * mm]))[1, 0])


def lowest_mode(slenderness: float) -> float:
    return float(plain_fold(slenderness, 1.0, 4.0).force)


def one_fold(ratio: float) -> list[float]:
    """Shares φh, φs, φc of a fold centred on a row, H/C 0.32, and R."""
    hole = Hole(*(np.array(v) for v in (0.0, 0.0, ratio, ratio, 0.5 * ratio, 1.0)))
    at = (np.array(0.0), np.array(0.32), hole)
    shares = [float(share(*at)) for share in (hinge_share, sweep_share, corner_share)]
    return [*shares, float(np.prod([1.0 - share for share in shares])) ** (1 / 3)]


def ramp() -> tuple[float, float]:
    """Stroke [m] and force [kN] of 10 kN + 200 kN/m under 1 t at 3 m/s."""
    s = np.linspace(0.0, 0.4, 4001)
    f = 10e3 + 200e3 * s
    rest = stop(s, f, 10e3 * s + 100e3 * s**2, 1000.0 * EARTH, 4500.0)
    return float(rest.stroke), float(swept_peak(s, f, rest.stroke)) / 1e3


def steps() -> float:
    s = np.array([0.0, 0.06, 0.06, 0.12, 0.12, 0.27])
    f = np.array([15e3, 15e3, 25e3, 25e3, 40e3, 40e3])
    return float(stop(s, f, work_against(s, f), 1000.0 * EARTH, 4500.0).stroke)


def constant(gravity: float, index: int) -> float:
    return float(constant_force_stop(1000.0, 3.0, 40e3, 1000.0 * gravity)[index])


def in_motion(gravity: float) -> float:
    """Travel [m] of 1 t at 3 m/s on four legs of 10 kN that spring on 50 MN/m."""
    setup = vehicle(even(4), gravity=gravity, stiffness=5e7)
    with ends_after(0.2, setup):
        moved = run(setup, flat(10e3, 5e7), touching(setup, (0.0, 0.0, -3.0)))
    return float(moved.pads.most[0, 0])


def first_leg(friction: float) -> float:
    turn = rotation_per_impulse(2.2, 5.4, 3.1, friction)
    return float(effective_mass(1.0, 2.2, turn))


def tips(gravity: float, slope: float = 0.0, crush: float = 0.0) -> float:
    h, r = after_crush(1.5, edge_distance(2.0, 4), crush, 0.0)
    return float(critical_speed(gravity, h, r, 1.0, math.radians(slope)))


def canted() -> tuple[float, float]:
    leg = sliding_leg(math.radians(20.0), 0.4, 0.0)
    return float(leg.reaction), float(leg.side)


def dropped_on_earth() -> float:
    """Mass [kg] that stands on Earth for 1 t landing at 3 m/s on the Moon on 40 kN."""
    stroke, _, energy = constant_force_stop(1000.0, 3.0, 40e3, 1000.0 * MOON)
    return float(equivalent_mass(energy, stroke, 3.0, EARTH))


UNEVEN = np.array([0.12, 0.15, 0.18, 0.15])


def read_back(force: float, crush: Any) -> float:
    """Speed of 1 t stopped on Earth by legs of constant force."""
    down = np.atleast_1d(crush)
    return float(speed_from_crush(1e3, 1e3 * EARTH, force * down.sum(), down.mean()))


def lean() -> float:
    """Lean [deg] of four unevenly crushed legs, opposite pads 4 m apart."""
    _, east, north = plane_of_legs(np.arange(4) * np.pi / 2.0, 2.0) @ UNEVEN
    return math.degrees(math.atan(math.hypot(east, north)))


def crossing(one: Callable[[float], Any], other: Callable[[float], Any], ends: float) -> float:
    return float(brentq(lambda x: float(one(x) - other(x)), ends, 3.0 * ends))


OURS: dict[str, Callable[[], float]] = {
    "Tolerance factor, n 10, 90/95": lambda: float(tolerance_factor(10, 0.90, 0.95)),
    "Tolerance factor, n 10, 99/95": lambda: float(tolerance_factor(10, 0.99, 0.95)),
    "Landings for a limit by the largest, 99/95": lambda: float(least_landings(0.99, 0.95)),
    "Pm/M0 at C/t 20": lambda: lowest_mode(20.0),
    "Pm/M0 at C/t 40": lambda: lowest_mode(40.0),
    "Pm/M0 at C/t 60": lambda: lowest_mode(60.0),
    "Pm/M0 at C/t 80": lambda: lowest_mode(80.0),
    "C/t where symmetric and asymmetric cross": lambda: crossing(
        symmetric_ratio, asymmetric_ratio, 20.0
    ),
    "C/t where asymmetric and extensional cross": lambda: crossing(
        asymmetric_ratio, extensional_ratio, 5.0
    ),
    "Mean force, tube 80 × 1.0 mm, kN": lambda: tube_force(1.0),
    "Mean force, tube 80 × 1.4 mm, kN": lambda: tube_force(1.4),
    "Mean force, tube 80 × 1.8 mm, kN": lambda: tube_force(1.8),
    "Energy to 149.05 mm, t 1.4 mm, J": lambda: tube_energy(1.4, 149.05),
    "Energy to 131.06 mm, t 1.8 mm, J": lambda: tube_energy(1.8, 131.06),
    "Energy to 166.17 mm, t 1.0 mm, J": lambda: tube_energy(1.0, 166.17),
    "Effective width, plain, λ 1.0": lambda: float(plain_width(1.0)),
    "Effective width, plain, λ 1.495": lambda: float(plain_width(1.495)),
    "Effective width, d/C 0.2, λ 1.0": lambda: float(holed_width(1.0, 0.2)),
    "Effective width, d/C 0.4, λ 1.0": lambda: float(holed_width(1.0, 0.4)),
    "Effective width, d/C 0.2, λ 1.495": lambda: float(holed_width(1.495, 0.2)),
    "Effective width, d/C 0.4, λ 1.495": lambda: float(holed_width(1.495, 0.4)),
    "Plate buckling k, both edges held": lambda: STIFFENED,
    "Plate buckling k, one edge free, 5 : 1": lambda: FREE_EDGE + 1.0 / 25.0,
    "Constant 40 kN, Earth: stroke, m": lambda: constant(EARTH, 0),
    "Constant 40 kN, Earth: time, s": lambda: constant(EARTH, 1),
    "Constant 40 kN, Earth: energy, J": lambda: constant(EARTH, 2),
    "Constant 40 kN, Moon: stroke, m": lambda: constant(MOON, 0),
    "Ramp 10 kN + 200 kN/m: stroke, m": lambda: ramp()[0],
    "Ramp 10 kN + 200 kN/m: peak, kN": lambda: ramp()[1],
    "Steps 15/25/40 kN: stroke, m": steps,
    "Drop height of 3 m/s, m": lambda: float(drop_height(3.0)),
    "Leg canted 20°, μ 0.4: V/F": lambda: canted()[0],
    "Leg canted 20°, μ 0.4: T/F": lambda: canted()[1],
    "Motion, 4 × 10 kN on 50 MN/m, Earth: travel, m": lambda: in_motion(EARTH),
    "Motion, 4 × 10 kN on 50 MN/m, Moon: travel, m": lambda: in_motion(MOON),
    "First leg m_eff/m, stuck": lambda: first_leg(0.4),
    "First leg m_eff/m, sliding, μ 0.2": lambda: first_leg(0.2),
    "First leg m_eff/m, no friction": lambda: first_leg(0.0),
    "Tip-over speed, Moon, m/s": lambda: tips(MOON),
    "Tip-over speed, Moon, slope 12°, m/s": lambda: tips(MOON, slope=12.0),
    "Tip-over speed, Mars, m/s": lambda: tips(MARS),
    "Tip-over speed, Moon, after 0.15 m crush, m/s": lambda: tips(MOON, crush=0.15),
    "Moon landing of 1 t as a drop on Earth: mass, kg": dropped_on_earth,
    "Effective weight, 2000 lb, 13 in, 6 in, L 2/3, lb": lambda: float(
        effective_weight(2000.0, 13.0, 6.0, 2.0 / 3.0)
    ),
    "Speed after a fall of 13 in, m/s": lambda: float(
        contact_speed(13.0 * 25.4 * mm, 1.0, EARTH, 0.0)
    ),
    "Speed from 0.10 m crush, 40 kN, 1 t, m/s": lambda: read_back(40e3, 0.10),
    "Speed from 0.16 m crush, 40 kN, 1 t, m/s": lambda: read_back(40e3, 0.16),
    "Speed from four legs, 10 kN, 0.12 to 0.18 m, m/s": lambda: read_back(10e3, UNEVEN),
    "Lean of those four legs, deg": lean,
    "Round tube, D/t 100: mean force/(s0 t²/4)": lambda: (
        4.0 * float(circular_tube_force(100.0, 1.0, 1.0))
    ),
    "Wave decay w at crest 1.5": lambda: 1.0 / float(decay(1.5)),
    "Wave decay w at crest 2.5": lambda: 1.0 / float(decay(2.5)),
    "One fold, d/C 0.4: φc": lambda: one_fold(0.4)[2],
    "One fold, d/C 0.6: φs": lambda: one_fold(0.6)[1],
    "One fold, d/C 0.6: φc": lambda: one_fold(0.6)[2],
    "One fold, d/C 0.2: R": lambda: one_fold(0.2)[3],
    "One fold, d/C 0.4: R": lambda: one_fold(0.4)[3],
    "One fold, d/C 0.6: R": lambda: one_fold(0.6)[3],
}


def compared() -> dict[str, list[str]]:
    return {row[0]: row[1:] for row in rows_of(section("Our values beside others"))}


def decimals(text: str) -> int:
    return len(text.partition(".")[2])


def test_every_comparison_is_computed_here_and_every_one_here_is_printed() -> None:
    assert set(compared()) == set(OURS)


@pytest.mark.parametrize("label", list(OURS))
def test_our_value_and_ratio_are_printed_as_the_tool_computes_them_now(label: str) -> None:
    ours, other, ratio, source = compared()[label]
    value = OURS[label]()
    assert f"{value:.{decimals(ours)}f}" == ours
    assert f"{value / float(other):.{decimals(ratio)}f}" == ratio
    assert re.search(r"\((published|from memory|derived)[^)]*\)$", source)

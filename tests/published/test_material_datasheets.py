"""Material datasheets against the figures they come from, typed here from a reference collection.

Curves over temperature are in test_material_temperature.py, scatter in test_material_scatter.py.
Most documents were read in public, often secondary copies; MIL is MIL-HDBK-5J (2003). One line per
table: low, nominal and high, or nominal alone, each with the mark of its figure: P published,
D derived by arithmetic on published figures, M from memory or judgement. ``solid`` is density,
Young's modulus and Poisson's ratio. After the bar: words the datasheet's source must contain.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import pytest

from tests.outside import Outside, each

if TYPE_CHECKING:
    from tests.outside import Status

SHELF = Path(__file__).parents[2] / "materials"
DATASHEETS = {path.stem: tomllib.loads(path.read_text("utf-8")) for path in SHELF.glob("*.toml")}
STATUS: dict[str, Status] = {"P": "published", "D": "derived", "M": "from memory"}
STRONGEST_FIRST = ("published", "derived", "common practice", "from memory")
SI = {"MPa": 1e6, "GPa": 1e9, "kg/m3": 1.0, "%": 0.01, "K": 1.0, "1/s": 1.0, "": 1.0}
UNIT = {
    "density": "kg/m3",
    "youngs_modulus": "GPa",
    "yield_strength": "MPa",
    "ultimate_strength": "MPa",
    "compressive_yield": "MPa",
    "elongation": "%",
    "D": "1/s",
}
SOLID = ("density", "youngs_modulus", "poisson_ratio")
HEADER = {"name", "designation", "condition", "crushing", "note", "heat_treated"}
LEVELS = ("low", "nominal", "high")
STRENGTHS = ("yield_strength", "ultimate_strength", "compressive_yield")

REFERENCE = """
stainless-304l-annealed: folds
solid 7900P 200P 0.27P | 1.4301; MIL 2.7.1.0(b); MIL 2.7.1.0(b)
yield_strength 220P 295P 350M | producer's data sheet for 1.4307; typical × 1.19
ultimate_strength 520P 650P 700P | producer's data sheet for 1.4307
elongation 40P | ASTM A240
hardening_exponent 0.44P | Callister (2005) p. 199
rate 100M 10M yield | Forrestal & Sagartz (1978)
stainless-304-annealed: folds
solid 7900P 200P 0.27P | 1.4301; MIL 2.7.1.0(b); MIL 2.7.1.0(b)
yield_strength 230M 310P 346M | EN 10088-4; ASTM A240; 1.96 × 0.06
ultimate_strength 540M 600P 750M | EN 10088-4; ASTM A240
elongation 40P | ASTM A240
hardening_exponent 0.44P | Callister (2005) p. 199
rate 100M 10M yield | Forrestal & Sagartz (1978)
stainless-301-quarter-hard: folds
solid 7916P 186.2P 0.27P | MIL 2.7.1.0(b)
yield_strength 476P 690D 871D | MIL 2.7.1.0(b); AMS 5517; 1.96 × 0.134; 517 MPa
ultimate_strength 855P 932D 1070M | MIL 2.7.1.0(b); AMS 5517; 862 MPa
compressive_yield 303P 440D 555D | MIL 2.7.1.0(b); 44/69
elongation 25P | ASTM A666
bend_radius 1.0P | 180° free bend
stainless-301-half-hard: may split
solid 7916P 179.3P 0.27P | MIL 2.7.1.0(b)
yield_strength 641P 902D 1121D | MIL 2.7.1.0(b); AMS 5518; 1.96 × 0.124; 758 MPa
ultimate_strength 972P 1126D 1290M | MIL 2.7.1.0(b); AMS 5518; 1034 MPa
compressive_yield 421P 592D 735D | MIL 2.7.1.0(b); 61/93
elongation 18P | ASTM A666
bend_radius 2.0P | 180° free bend
stainless-316l-annealed: folds
solid 8000M 200M 0.27P | EN 10088-1; EN 10088-1; MIL 2.7.1.0(b)
yield_strength 240P 300P 335M | producer's data sheet for 1.4404; 1.96 × 0.06
ultimate_strength 530P 625P 680P | producer's data sheet for 1.4404
elongation 40M | EN 10088-2 Table 7
hardening_exponent 0.45M | memory
steel-s235: folds
solid 7850P 210P 0.3P | EN 1993-1-1
yield_strength 235P 308P 358D | EN 10025-2 Table 7; 308.3 MPa; 1.96 × 0.082
ultimate_strength 360P 430M 510P | EN 10025-2 Table 7
elongation 26M | EN 10025-2:2019 Table 7
hardening_exponent 0.21P | Callister (2005) p. 199
rate 6844M 3.91M large strain | Abramowicz & Jones; 40.4 1/s
steel-s355: folds
solid 7850P 210P 0.3P | EN 1993-1-1
yield_strength 355P 425M 493M | EN 10025-2 Table 7; 1.96 × 0.082
ultimate_strength 470P 550M 630P | EN 10025-2 Table 7
elongation 22M | EN 10025-2:2019 Table 7
hardening_exponent 0.18M | memory
rate 4000M 5M large strain | DNV-RP-C208
steel-dc04: folds
solid 7850M 210M 0.3M | EN 1993-1-1
yield_strength 140M 180M 210P | EN 10130:2006
ultimate_strength 270P 310M 350P | EN 10130:2006
elongation 38P | EN 10130:2006
hardening_exponent 0.18M | EN 10130:2006 Table 2
rate 6844M 3.91M large strain | Abramowicz & Jones; 40.4 1/s
steel-4130-normalised: may split
solid 7833P 200P 0.32P | MIL 2.3.1.0(c1)
yield_strength 517P 570M 662M | MIL 2.3.1.0(c1); 1.96 × 0.082
ultimate_strength 655P 720M 830M | MIL 2.3.1.0(c1)
elongation 10P | MIL 2.3.1.0(d)
hardening_exponent 0.12M | 0.118
aluminium-6061-o: folds
solid 2713P 68.3P 0.33P | MIL 3.6.2.0(b1)
yield_strength 45M 55P 83P | no minimum exists; ASTM B209
ultimate_strength 114M 124P 152P | no minimum exists; ASTM B209
elongation 16P | ASTM B209
hardening_exponent 0.2P | Kalpakjian
aluminium-6061-t4: folds
solid 2713P 68.3P 0.33P | MIL 3.6.2.0(b1)
yield_strength 110P 145P 172D | MIL 3.6.2.0(b1); 1.96 × 0.094
ultimate_strength 207P 241P 275M | MIL 3.6.2.0(b1)
elongation 16P | ASTM B209
hardening_exponent 0.2M | memory
aluminium-6061-t6: splits
solid 2713P 68.3P 0.33P | MIL 3.6.2.0(b1)
yield_strength 248P 276P 301D | MIL 3.6.2.0(b1); 1.96 × 0.047
ultimate_strength 290P 310P 355M | MIL 3.6.2.0(b1)
elongation 10P | MIL 3.6.2.0(b3)
hardening_exponent 0.05P | Kalpakjian
rate 1288000M 4M yield | Symonds
aluminium-6063-t5: may split
solid 2700P 69.5P 0.33P | EN 755-2; EN 755-2; 6063-T5
yield_strength 130P 145P 172M | EN 755-2; 6063-T52
ultimate_strength 175P 186P 215M | EN 755-2
elongation 6P | EN 755-2
hardening_exponent 0.1M | memory
aluminium-6082-t6: may split
solid 2700P 70P 0.33M | 6082; 6082; memory
yield_strength 250P 300M 328M | EN 755-2; 1.96 × 0.047
ultimate_strength 290P 330M 380M | EN 755-2
elongation 6P | EN 755-2
hardening_exponent 0.07M | memory
bend_radius 3.5P | EN 485-2; 1.5 mm to 3 mm
aluminium-5083-h111: folds
solid 2657P 70.3P 0.33P | MIL 3.5.2.0(b)
yield_strength 125P 145M 158M | EN 485-2; 1.96 × 0.047
ultimate_strength 275P 290M 350P | EN 485-2
elongation 13P | EN 485-2
hardening_exponent 0.28M | memory
bend_radius 1.0P | EN 485-2; 0.5 mm to 3 mm
aluminium-2219-t87: splits
solid 2851P 72.4P 0.33P | MIL 3.2.8.0(b2)
yield_strength 352P 393P 429M | MIL 3.2.8.0(b2); 1.96 × 0.047
ultimate_strength 434P 476P 545M | MIL 3.2.8.0(b2)
elongation 6P | MIL 3.2.8.0(b2)
hardening_exponent 0.08M | memory
aluminium-7075-t6: splits
solid 2796P 71.0P 0.33P | MIL 3.7.6.0(b1)
yield_strength 483P 503P 529D | MIL 3.7.6.0(b1); 1.96 × 0.026
ultimate_strength 538P 572P 660M | MIL 3.7.6.0(b1)
elongation 8P | MIL 3.7.6.0(b1)
hardening_exponent 0.07M | memory
titanium-6al-4v-annealed: splits
solid 4430P 110.3P 0.31P | data sheets; MIL 5.4.1.0(b); MIL 5.4.1.0(b)
yield_strength 828P 910P 972M | ASTM grade 5; 1.96 × 0.035
ultimate_strength 897P 1000P 1150M | ASTM grade 5
elongation 10P | ASTM grade 5
hardening_exponent 0.05M | memory
bend_radius 5.0P | ASTM grade 5; above 1.8 mm"""


def unit_of(value: str) -> str:
    return value.partition(" ")[2]


def si(value: str | float) -> float:
    number, _, unit = str(value).partition(" ")
    return float(number) * SI[unit]


class Row(NamedTuple):
    datasheet: str
    table: str
    level: str
    value: str
    status: Status
    words: tuple[str, ...]

    def found(self) -> float:
        """Value of the datasheet, in the unit of the row."""
        return si(DATASHEETS[self.datasheet][self.table][self.level]) / SI[unit_of(self.value)]


def rows_of(datasheet: str, line: str) -> list[Row]:
    figures, bar = line.split(" | ")
    table = figures.split()[0]
    places: list[tuple[str, str, tuple[str, ...]]]
    marked = re.findall(r"([\d.]+)([PDM])", figures)
    words = tuple(bar.replace("MIL ", "MIL-HDBK-5J (2003) Table ").split("; "))
    if table == "solid":
        own_words = words if len(words) == len(SOLID) else words * len(SOLID)
        places = [(name, "nominal", (word,)) for name, word in zip(SOLID, own_words, strict=True)]
    else:
        levels = {1: ("nominal",), 2: ("D", "q"), 3: LEVELS}[len(marked)]
        places = [(table, level, words) for level in levels]
    return [
        Row(
            datasheet,
            name,
            level,
            f"{number} {UNIT.get(name, UNIT.get(level, ''))}",
            STATUS[mark],
            own,
        )
        for (name, level, own), (number, mark) in zip(places, marked, strict=True)
    ]


def read_reference() -> tuple[dict[str, str], list[Row]]:
    crushing, rows, datasheet = {}, [], ""
    for line in REFERENCE.strip().splitlines():
        if " | " in line:
            rows += rows_of(datasheet, line)
        else:
            datasheet, crushing[datasheet] = line.split(": ")
    return crushing, rows


CRUSHING, ROWS = read_reference()
EVERY_ROW = pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r.datasheet}-{r.table}-{r.level}")
EVERY_DATASHEET = pytest.mark.parametrize("key", sorted(DATASHEETS))


def tables(key: str) -> dict[str, dict[str, Any]]:
    return {name: table for name, table in DATASHEETS[key].items() if isinstance(table, dict)}


def mpa(key: str, table: str) -> list[float]:
    return [si(DATASHEETS[key][table][level]) / 1e6 for level in LEVELS]


VALUES = tuple(
    Outside(
        what=f"{row.datasheet}, {row.level} {row.table.replace('_', ' ')}",
        theirs=float(row.value.split()[0]),
        ours=row.found,
        source=row.words[0],
        place="; ".join(row.words[1:]) or "the value itself",
        status=row.status,
        relative=1e-9,
        why="the same number",
        unit=unit_of(row.value),
    )
    for row in ROWS
)


@each(VALUES)
def test_reference_collection_datasheet_values(value: Outside) -> None:
    value.check()


@EVERY_ROW
def test_reference_collection_the_datasheet_names_the_document(row: Row) -> None:
    source = DATASHEETS[row.datasheet][row.table]["source"].lower()
    assert all(word.lower() in source for word in row.words)


def test_every_value_of_every_datasheet_has_a_row_in_the_reference() -> None:
    on_datasheets = {
        (key, name, level)
        for key in DATASHEETS
        for name, table in tables(key).items()
        if name != "strength_with_temperature"
        for level in table.keys() - {"source", "status", "fitted_at", "test_rate"}
    }
    assert on_datasheets == {(row.datasheet, row.table, row.level) for row in ROWS}


@pytest.mark.parametrize(("key", "name"), sorted({(row.datasheet, row.table) for row in ROWS}))
def test_a_table_has_the_status_of_its_weakest_figure(key: str, name: str) -> None:
    marks = [row.status for row in ROWS if (row.datasheet, row.table) == (key, name)]
    assert DATASHEETS[key][name]["status"] == max(marks, key=STRONGEST_FIRST.index)


@EVERY_DATASHEET
def test_every_table_has_a_source_and_a_known_status(key: str) -> None:
    for name, table in tables(key).items():
        assert table["source"].strip(), name
        assert table["status"] in STRONGEST_FIRST, name


@EVERY_DATASHEET
def test_low_nominal_and_high_are_in_order_and_yield_is_below_ultimate(key: str) -> None:
    for name in STRENGTHS & tables(key).keys():
        assert mpa(key, name) == sorted(mpa(key, name)), name
    pairs = zip(mpa(key, "yield_strength"), mpa(key, "ultimate_strength"), strict=True)
    assert all(lower <= upper for lower, upper in pairs)


@EVERY_DATASHEET
def test_the_datasheet_says_how_it_crushes_with_a_reason_and_its_status(key: str) -> None:
    datasheet = DATASHEETS[key]
    assert {name for name in datasheet if name not in tables(key)} <= HEADER
    assert all(datasheet[name].strip() for name in ("name", "designation", "condition"))
    assert datasheet["crushing"] == CRUSHING[key]
    assert "from memory" in datasheet["note"]
    assert datasheet["note"].endswith("A mill certificate replaces this datasheet.")


def test_the_artificially_aged_tempers_and_no_others_ask_for_a_seam_factor() -> None:
    """Welds soften them, from memory."""
    aged = {"6061-t6", "6063-t5", "6082-t6", "2219-t87", "7075-t6"}
    marked = {
        key.removeprefix("aluminium-") for key in DATASHEETS if DATASHEETS[key].get("heat_treated")
    }
    assert marked == aged


def test_a_strain_rate_pair_says_where_it_was_fitted_and_the_rate_of_the_tensile_test() -> None:
    """From memory; no pair is trusted for 316L, 301, 4130, 2219 and titanium 6Al-4V."""
    fitted = {
        key: DATASHEETS[key]["rate"]["fitted_at"] for key in DATASHEETS if "rate" in DATASHEETS[key]
    }
    large = dict.fromkeys(("steel-s235", "steel-s355", "steel-dc04"), "large strain")
    at_yield = ("stainless-304l-annealed", "stainless-304-annealed", "aluminium-6061-t6")
    assert fitted == large | dict.fromkeys(at_yield, "yield")
    assert {si(DATASHEETS[key]["rate"]["test_rate"]) for key in fitted} == {0.001}

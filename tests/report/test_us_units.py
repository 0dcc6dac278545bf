"""`--units us` leaves no SI unit on the screen of any verb, and SI shows no US unit.

Left out of the search, each for its reason:

- the chapter of sources: a source is quoted in the unit it was published in;
- names of touchdowns: the user's own text ("drop from 0.8 m");
- tools and sheets of the stock: the name they are sold by ("82 mm turret punch", "3/16 in drill");
- condition and note of a datasheet: quoted from the standard or handbook behind it.
"""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from crushleg import cli

EXAMPLES = Path(__file__).parents[2] / "examples"
MANY = r"\b(?:mm2?|cm2?|kg|kN|MN|kJ|MPa|GPa|kPa|m/s2?|m2|degC|N·m|kg/m3)(?![\w·])"
SI = re.compile(rf"{MANY}|(?<=\d )[mNJK]\b(?!/)|(?<=\d )t(?=[,;:.)]| ±|$)|[,(] ?[mNJtK]$")
US = re.compile(
    r"(?<![\w-])(?:lbf?|kip|psi|ksi|ft-lbf|lbf-ft|ft/s2?|in2|ft2|lb/in3|degF)(?![\w-])"
    r"|(?<=\d )(?:in|ft)\b(?! (?:\d+ )?row)"
)
OWN_NAME = "drop from 0.8 m"
SOLD_AS = re.compile(
    r"[\d./ ]+ (?:mm|in) (?:turret punch|hole saw|twist drill|annular cutter|taper-shank drill"
    r"|cold-rolled|hot-rolled|aircraft|4130)"
)
QUOTED = ("condition", "note")
SLOW = pytest.mark.evidence
RUNS = [
    "check dunlin.toml",
    "check godwit.toml",
    "check coupon.toml",
    "check dunlin-bare-leg.toml",
    "compare dunlin-schemes.toml",
    "compare dunlin.toml --vary leg.pad_friction=0.2:0.4:3",
    "drill dunlin.toml --paper none",
    "drill dunlin.toml --paper none --set girder.holes.first='45 mm'",
    "predict dunlin.toml",
    "predict coupon.toml",
    "correlate coupon.toml coupon-drop.csv",
    "inspect dunlin.toml dunlin-readings.csv",
    "inspect coupon.toml --leg 1=244,243,245,244mm --folds 1=2",
    "materials",
    "materials stainless-304l-annealed",
    "materials aluminium-6061-t6",
    pytest.param("land dunlin-slope.toml", marks=SLOW),
    pytest.param("land godwit-soft-ground.toml", marks=SLOW),
    pytest.param("size dunlin.toml --rows 4 --walls 4mm", marks=SLOW),
    pytest.param("size dunlin.toml --follow constant:60kip", marks=SLOW),
    pytest.param("scatter dunlin-scatter.toml --samples 64", marks=SLOW),
]


def screen(command: str, units: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """Report of a command, piped, on the files of the examples."""
    verb, *words = shlex.split(command)
    words = [str(EXAMPLES / word) if (EXAMPLES / word).is_file() else word for word in words]
    out = [] if verb == "materials" else ["--out", str(tmp_path)]
    plots = [] if verb in ("materials", "drill") else ["--no-plots"]
    code = cli.main([verb, *words, *out, *plots, "--units", units])
    assert code in (cli.PASSED, cli.NEGATIVE)
    return capsys.readouterr().out


def searched(text: str) -> list[str]:
    """Lines of a report in which no unit of the other system may stand."""
    kept, sources = [], False
    for line in text.splitlines():
        if not line:
            sources = False
        elif line.startswith("Sources"):
            sources = True
        if sources or line.startswith(QUOTED):
            continue
        kept.append(SOLD_AS.sub("TOOL", line.replace(OWN_NAME, "NAME")))
    return kept


@pytest.mark.parametrize("command", RUNS)
@pytest.mark.parametrize(
    ("units", "other", "own"), [("us", SI, US), ("si", US, SI)], ids=["us", "si"]
)
def test_a_report_shows_units_of_one_system(
    command: str,
    units: str,
    other: re.Pattern[str],
    own: re.Pattern[str],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    lines = searched(screen(command, units, tmp_path, capsys))
    assert any(own.search(line) for line in lines)
    assert [line for line in lines if other.search(line)] == []


@pytest.mark.parametrize(
    "text",
    ["zero 79 N taken off", "stroke mm", "mass 40 t, on", "H = 38 mm to", "2.81 MPa", "in 1 kJ of"],
)
def test_an_si_unit_is_found(text: str) -> None:
    assert SI.search(text)
    assert not US.search(text)


@pytest.mark.parametrize(
    "text", ["3.15 in, 8.27 in", "peak kip", "17.8 lbf taken", "11.5 ft/s", "7 lb"]
)
def test_a_us_unit_is_found(text: str) -> None:
    assert US.search(text)
    assert not SI.search(text)

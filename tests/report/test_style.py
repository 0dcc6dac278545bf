"""The one look of all figures: contrast, colour-blind eyes, grey, and no look set elsewhere."""

from __future__ import annotations

import ast
from itertools import combinations, pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest

import crushleg
from crushleg.report import style
from crushleg.report.plots import figures
from crushleg.report.style import LINES, MARKERS, OUTCOMES, WAYS, way

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

REPORT = Path(crushleg.__file__).parent / "report"
DRAWING = sorted(
    path
    for kind in ("plot*.py", "drill_[ps]*.py", "paper.py", "sheet_pdf.py", "inspect_card.py")
    for path in REPORT.glob(kind)
)

EYES: dict[str, FloatArray] = {
    "normal": np.eye(3),
    "protanopia": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deuteranopia": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "tritanopia": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}
"""Linear RGB as seen: Machado, Oliveira and Fernandes (2009), severity 1; compared with the table
of the library colorspacious."""
XYZ = np.array(
    [
        [0.4124564, 0.3575761, 0.1804375],
        [0.2126729, 0.7151522, 0.0721750],
        [0.0193339, 0.1191920, 0.9503041],
    ]
)
"""Linear sRGB to CIE XYZ, D65 (IEC 61966-2-1, from memory)."""

TEXT, LINE = 4.5, 3.0
"""Least contrast to paper of text and of lines: WCAG 2.1, 1.4.3 and 1.4.11 (from memory)."""
APART = 10.0
"""Least CIE76 difference of two hues that mean two things, for every eye. One that can just be
seen on patches is about 2.3 (Mahy et al. 1994, from memory); four times it for lines this thin is
our judgement."""
GREY = 15.0
"""Two lines nearer than this in lightness must differ by dash: judgement, a third more than
``APART`` because in print lightness alone is left."""
TEXTS = ("INK", "SOFT", "BLUE", "RED", "LIMIT", "GREEN")
LOOKS = {
    "low": LINES[0],
    "nominal": LINES[1],
    "high": LINES[2],
    "limit": style.LIMITED,
    "usable": style.USABLE,
    "allowed": style.ALLOWED,
}


def linear(colour: str) -> FloatArray:
    """Linear RGB of "#rrggbb"."""
    c = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255.0
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)


def lab(rgb: FloatArray) -> FloatArray:
    """CIELAB of linear RGB, D65."""
    t = (np.clip(rgb, 0.0, 1.0) @ XYZ.T) / XYZ.sum(axis=1)
    f = np.where(t > (6 / 29) ** 3, np.cbrt(t), t / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def apart(one: str, other: str, eye: str) -> float:
    """CIE76 difference of two colours as an eye sees them."""
    seen = [lab(EYES[eye] @ linear(colour)) for colour in (one, other)]
    return float(np.linalg.norm(seen[0] - seen[1]))


def lightness(colour: str) -> float:
    """CIE lightness: what is left of a colour in grey."""
    return float(lab(linear(colour))[0])


def contrast(colour: str) -> float:
    """Contrast ratio to white paper (WCAG 2.1)."""
    return float(1.05 / (XYZ[1] @ linear(colour) + 0.05))


def test_the_measure_itself() -> None:
    """CIELAB of sRGB red is 53.24, 80.09, 67.20 (Lindbloom, from memory); grey stays grey."""
    assert lab(linear("#ff0000")) == pytest.approx([53.24, 80.09, 67.20], abs=0.02)
    assert contrast("#000000") == pytest.approx(21.0)
    for matrix in EYES.values():
        assert matrix.sum(axis=1) == pytest.approx(1.0, abs=2e-6)


@pytest.mark.parametrize("name", TEXTS)
def test_colours_of_text_can_be_read(name: str) -> None:
    assert contrast(getattr(style, name)) >= TEXT


def test_data_in_the_background_can_be_seen_and_guides_are_fainter() -> None:
    assert contrast(style.MUTED) >= LINE > contrast(style.FAINT)


@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize(("one", "other"), list(combinations(TEXTS, 2)))
def test_hues_differ_for_every_eye(one: str, other: str, eye: str) -> None:
    assert apart(getattr(style, one), getattr(style, other), eye) >= APART


@pytest.mark.parametrize(("one", "other"), list(combinations(LOOKS, 2)))
def test_lines_that_are_alike_in_grey_differ_by_dash(one: str, other: str) -> None:
    a, b = LOOKS[one], LOOKS[other]
    near = abs(lightness(str(a["color"])) - lightness(str(b["color"]))) < GREY
    assert not near or a["linestyle"] != b["linestyle"]


@pytest.mark.parametrize("name", ["low", "nominal", "high", "limit"])
def test_what_is_measured_differs_from_what_is_predicted_in_grey(name: str) -> None:
    """By dash or lightness; it bears markers too."""
    near = abs(lightness(style.GREEN) - lightness(str(LOOKS[name]["color"]))) < GREY
    assert not near or LOOKS[name]["linestyle"] != style.HELD["linestyle"]


def test_no_two_of_many_like_things_look_alike_without_colour() -> None:
    count = len(MARKERS) * len(WAYS)
    looks = {(MARKERS[k % len(MARKERS)], str(way(k)["linestyle"])) for k in range(count)}
    assert len(looks) == count


def test_outcomes_darken_as_they_get_worse_and_each_has_a_hatch_of_its_own() -> None:
    shades = [lightness(look.face) for look in OUTCOMES.values()]
    assert all(before - after > 5.0 for before, after in pairwise(shades))
    assert len({look.hatch for look in OUTCOMES.values()}) == len(OUTCOMES)


def test_dashes_do_not_change_with_the_weight_and_weights_are_a_series() -> None:
    """Line widths of ISO 128-2 [mm], each about √2 times the one before (from memory)."""
    assert style.RC["lines.scale_dashes"] is False
    weights = [style.HAIR, style.THIN, style.FINE, style.FIRM, style.BOLD, style.THICK, style.BAR]
    assert [round(w * style.POINT, 2) for w in weights] == [0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0]
    assert all(1.35 < after / before < 1.45 for before, after in pairwise(weights))


SET = {
    "alpha", "capsize", "c", "color", "colors", "edgecolor", "edgecolors", "elinewidth",
    "facecolor", "facecolors", "fontsize", "hatch", "labelcolor", "labelsize", "linestyle",
    "linestyles", "linewidth", "linewidths", "markeredgecolor", "markeredgewidth",
    "markerfacecolor", "markersize", "size",
}  # fmt: skip
NOTHING = ("", "none", 0.0, 0)


def literals(source: str) -> list[str]:
    """Colours, weights, dashes and sizes that are written out: line and what is there."""
    found = []
    for node in ast.walk(ast.parse(source)):
        pairs: list[tuple[str | None, ast.expr]] = []
        if isinstance(node, ast.Call):
            pairs = [(keyword.arg, keyword.value) for keyword in node.keywords]
        elif isinstance(node, ast.Dict):
            keys = [key.value if isinstance(key, ast.Constant) else None for key in node.keys]
            pairs = list(zip(map(str, keys), node.values, strict=True))
        for name, value in pairs:
            if name in SET and _written_out(value):
                found.append(f"line {value.lineno}: {name}={ast.unparse(value)}")
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
            if text.startswith("#") and len(text) == 7:
                found.append(f"line {node.lineno}: {text}")
    return found


def _written_out(value: ast.expr) -> bool:
    if isinstance(value, ast.IfExp):
        return _written_out(value.body) or _written_out(value.orelse)
    if isinstance(value, ast.Tuple):
        return any(map(_written_out, value.elts))
    return isinstance(value, ast.Constant) and value.value not in NOTHING


def test_the_search_for_literals_finds_them() -> None:
    assert literals('plot(x, color="red", linewidth=2.0, zorder=3)') != []
    assert literals("plot(x, linestyle=(0, (1, 2)))") != []
    assert literals('look = {"markersize": 3.0 if a else SPOT}') != []
    assert literals('EDGE = "#123456"') != []
    assert literals('plot(x, color=INK, linewidth=0.0, facecolor="none")') == []


@pytest.mark.parametrize("path", DRAWING, ids=lambda path: path.name)
def test_no_figure_sets_a_look_of_its_own(path: Path) -> None:
    assert literals(path.read_text(encoding="utf-8")) == []


def test_low_nominal_and_high_look_the_same_in_every_figure() -> None:
    case = crushleg.read_case_text(crushleg.template("coupon"))
    seen = 0
    for figure in figures(crushleg.check_case(case)).values():
        for axes in figure.axes:
            for one in axes.get_lines():
                if one.get_gid() in style.LEVELS:
                    look = LINES[style.LEVELS.index(str(one.get_gid()))]
                    assert one.get_color() == look["color"]
                    assert one.get_linewidth() == look["linewidth"]
                    seen += 1
    assert seen == 9

"""How landings end over vertical and horizontal speed: the stability map."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.patches import Patch, PathPatch
from matplotlib.path import Path
from matplotlib.transforms import Affine2D
from scipy.ndimage import distance_transform_edt, label

from crushleg.landing.arrival import arrive
from crushleg.landing.motion.outcome import WORDS
from crushleg.report.plot_labels import Label, margin_labels, paper_size, width_of
from crushleg.report.plot_land_legs import where
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    HAIR,
    INK,
    LIMIT,
    LIMITED,
    MARKERS,
    OUTCOMES,
    SMALL,
    SOFT,
    WHITE,
    Area,
    halo,
    plain_ticks,
    quantity,
    scaled,
    styled,
    unit_for,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray, IntArray
    from crushleg.case.records import Touchdown
    from crushleg.check import Checked
    from crushleg.stability import StabilityMap

LEFT, RIGHT, LOW, TALL, ABOVE = 17.0, 44.0, 17.0, 92.0, 3.0
NEAR = (2.2, 1.2)
"""Names of outcomes keep so many cells across and up from markers and lines."""
MEANING = {
    "stands": "stands where it landed",
    "slides": "slides and does not tip",
    "bottoms": "a leg bottoms",
    "strikes": "the hull strikes the ground",
    "tips": "tips over",
}


def stability_figure(checked: Checked, stability: StabilityMap, system: str = "si") -> Figure:
    """Outcome of landings over vertical and horizontal speed, with the touchdowns of the case.

    Parameters
    ----------
    checked : Checked
    stability : StabilityMap
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
        A cell for each pair of speeds; outcomes differ by shade, hatch and name.
    """
    with styled():
        note = "Worst of all legs low and all legs high. Marked: touchdowns of the case, "
        note += "reserve speeds times speed_reserve; hollow: on another slope, lean or mass."
        what = f"How landings end over speed: {conditions(stability.touchdown)}"
        figure = sheet(checked, what, LOW + TALL + ABOVE, note)
        axes = place(figure, LEFT, LOW, PAGE - LEFT - RIGHT, TALL)
        fastest = max(float(stability.vertical.max()), float(stability.horizontal.max()))
        unit = unit_for(np.array(fastest), "speed", system)
        across, up = edges(stability.horizontal, unit), edges(stability.vertical, unit)
        _cells(axes, stability.word, across, up)
        axes.set(xlim=(max(0.0, across[0]), across[-1]), ylim=(max(0.0, up[0]), up[-1]))
        plain_ticks(axes)
        axes.set_xlabel(f"Horizontal speed at contact ({unit})")
        axes.set_ylabel(f"Vertical speed at contact, downward ({unit})")
        _tips_at(axes, stability.tips_at, unit)
        marked = _touchdowns(axes, checked, stability.touchdown, unit)
        line = np.column_stack([np.full(len(up), scaled(stability.tips_at, unit)), up])
        _names(axes, stability.word, (across, up), np.concatenate([marked, line]))
        _legend(axes)
    return figure


def conditions(touchdown: Touchdown) -> str:
    """Slope and lean of the landings in words, and whose they are."""
    said = ["level ground"]
    if touchdown.slope:
        rises = where(touchdown.slope_azimuth)
        said = [f"slope {math.degrees(touchdown.slope):.3g}° rising {rises}"]
    lean = touchdown.attitude
    way = "ahead" if lean > 0.0 else "back"
    said.append(f"lean {abs(math.degrees(lean)):.3g}° {way}" if lean else "upright")
    if touchdown.attitude_rate:
        rate = math.degrees(touchdown.attitude_rate)
        said.append(f"turning {abs(rate):.3g}°/s {'ahead' if rate > 0.0 else 'back'}")
    return f"{', '.join(said)} (touchdown {touchdown.name})"


def edges(middles: FloatArray, unit: str) -> FloatArray:
    """Edges of cells round evenly spaced speeds, shape (n + 1,)."""
    half = 0.5 * (middles[1] - middles[0])
    return scaled(np.append(middles - half, middles[-1] + half), unit)


def _cells(axes: Axes, word: IntArray, across: FloatArray, up: FloatArray) -> None:
    """Cells of each outcome as one area with its shade and hatch."""
    for name, look in OUTCOMES.items():
        cells = [
            Path.unit_rectangle().transformed(
                Affine2D()
                .scale(across[j + 1] - across[j], up[i + 1] - up[i])
                .translate(across[j], up[i])
            )
            for i, j in zip(*np.nonzero(word == WORDS.index(name)), strict=True)
        ]
        if cells:
            area = PathPatch(Path.make_compound_path(*cells), zorder=0.5, gid=name, **_look(look))
            axes.add_patch(area)


def _look(look: Area) -> dict[str, Any]:
    return {"facecolor": look.face, "edgecolor": look.ink, "hatch": look.hatch, "linewidth": 0.0}


def _names(
    axes: Axes, word: IntArray, ends: tuple[FloatArray, FloatArray], taken: FloatArray
) -> None:
    """Name of each outcome in its largest patch, away from points that are taken (K, 2)."""
    across, up = ends
    middle = 0.5 * (across[1:] + across[:-1]), 0.5 * (up[1:] + up[:-1])
    x, y = np.meshgrid(*middle)
    near = np.zeros(word.shape, dtype=bool)
    for point in taken:
        near |= (np.abs(x - point[0]) < NEAR[0] * (across[1] - across[0])) & (
            np.abs(y - point[1]) < NEAR[1] * (up[1] - up[0])
        )
    wide = float(np.ptp(axes.get_xlim())) / paper_size(axes)[0]
    for k, name in enumerate(WORDS):
        here = word == k
        if not here.any():
            continue
        patches, count = label(here)
        largest = patches == 1 + int(np.argmax([(patches == 1 + n).sum() for n in range(count)]))
        free = largest & ~near if (largest & ~near).any() else largest
        inside = distance_transform_edt(np.pad(free, 1))[1:-1, 1:-1]
        off = np.hypot(*(np.indices(free.shape) - np.argwhere(free).mean(axis=0)[:, None, None]))
        i, j = np.unravel_index(int(np.argmax(np.minimum(inside, 2.0) - 1e-3 * off)), free.shape)
        half = 0.55 * width_of(name, size=SMALL, bold=True) * wide
        left, right = axes.get_xlim()
        at = float(np.clip(x[i, j], left + half, right - half)), float(y[i, j])
        how: dict[str, Any] = {"ha": "center", "va": "center", "fontsize": SMALL, "zorder": 4.0}
        axes.text(*at, name, weight="bold", path_effects=halo(), gid="outcome", **how)


def _tips_at(axes: Axes, speed: float, unit: str) -> None:
    """Line of the speed that just tips the uncrushed vehicle with stuck pads."""
    at = float(scaled(speed, unit))
    axes.axvline(at, gid="tips at", **LIMITED)
    axes.annotate(
        f"tips uncrushed, pads stuck: {quantity(speed, unit)}",
        (at, axes.get_ylim()[1]),
        xytext=(-3.0, -3.0),
        textcoords="offset points",
        rotation=90,
        ha="right",
        va="top",
        fontsize=SMALL,
        color=LIMIT,
        path_effects=halo(),
        zorder=4.0,
    )


def _touchdowns(axes: Axes, checked: Checked, base: Touchdown, unit: str) -> FloatArray:
    """Touchdowns of the case as markers, hollow where not all but the speeds is the map's."""
    case = checked.case
    labels, points = [], []
    for k, one in enumerate(case.touchdowns):
        arrival = arrive(case.vehicle, one, case.factors)
        x, y = float(scaled(arrival.horizontal, unit)), float(scaled(arrival.vertical, unit))
        mark = MARKERS[k % len(MARKERS)]
        face = INK if _same(one, base) else WHITE
        axes.plot(
            x, y, mark, color=INK, markerfacecolor=face, clip_on=False, zorder=6.0, gid=one.name
        )
        other = "" if face == INK else "\nother slope, lean or mass"
        labels.append(Label(y, f"{one.name}{other}", INK, mark, face))
        points.append((x, y))
    margin_labels(axes, labels, RIGHT)
    return np.array(points)


def _same(one: Touchdown, base: Touchdown) -> bool:
    """Whether two touchdowns differ in no more than speeds and name."""
    fields = (
        "slope", "slope_azimuth", "attitude", "attitude_rate", "mass", "heading", "first_contact",
        "thrust_to_weight",
    )  # fmt: skip
    return all(getattr(one, field) == getattr(base, field) for field in fields)


def _legend(axes: Axes) -> None:
    """Outcomes in words, mildest first, below the axes."""
    patches = [
        Patch(label=f"{name}: {MEANING[name]}", **(_look(look) | {"linewidth": HAIR}))
        for name, look in OUTCOMES.items()
    ]
    axes.legend(
        handles=patches,
        loc="upper left",
        bbox_to_anchor=(0.0, -0.115),
        ncols=3,
        labelcolor=SOFT,
        handlelength=2.2,
    )

"""Figures of a correlation: measured curves over the predicted ones; and both are written."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.check import check_case
from crushleg.report.plot_curves import draw_curves
from crushleg.report.plot_factors import factors_figure
from crushleg.report.plot_labels import Label, margin_labels
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    BOLD,
    FINE,
    HELD,
    LEVELS,
    LIMIT,
    LINES,
    MARKERS,
    SPOT,
    plain_ticks,
    scaled,
    styled,
    unit_for,
)
from crushleg.trial.frozen import uncorrelated

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.report.correlate_text import Findings
    from crushleg.trial.correlate import Compared

LEFT, RIGHT, LOW = 17.0, 34.0, 10.0
HEIGHT, GAP, ABOVE = 62.0, 4.0, 3.0
NAMED, FLAGGED = 12, 5
"""Tests that get a label; of more only the first few that disagree."""
POINTS = 2000
SPOTS = 7
"""Markers along a measured curve."""


def correlation_figures(about: Findings, units: str = "si") -> dict[str, Figure]:
    """Both figures by name: measured-curves, measured-factors."""
    return {
        "measured-curves": curves_figure(about, units),
        "measured-factors": factors_figure(about),
    }


def curves_figure(about: Findings, system: str = "si") -> Figure:
    """Force and energy against stroke: the predicted band, every measured crush over it."""
    against, tests = about.against, about.found.tests
    reach = 1.1 * max(test.metrics.stroke for test in tests)
    shown = against.stroke[1] <= max(reach, 0.2 * against.end)
    energies = np.array([*(t.metrics.energy for t in tests), float(against.energy[2][shown].max())])
    forces = np.array([*(t.metrics.largest for t in tests), float(against.force[2][shown].max())])
    x = unit_for(np.array([reach]), "length", system)
    ys = unit_for(forces, "force", system), unit_for(energies, "energy", system)
    with styled():
        body = LOW + 2.0 * HEIGHT + GAP + ABOVE
        checked = check_case(uncorrelated(about.case))
        figure = sheet(
            checked, f"Measured crush over the prediction ({_held(about)})", body, _note(about)
        )
        width = PAGE - LEFT - RIGHT
        lower = place(figure, LEFT, LOW, width, HEIGHT)
        upper = place(figure, LEFT, LOW + HEIGHT + GAP, width, HEIGHT)
        for axes, unit, lines, most in (
            (upper, ys[0], against.force, forces),
            (lower, ys[1], against.energy, energies),
        ):
            draw_curves(axes, scaled(against.stroke, x), scaled(lines, unit))
            axes.set_xlim(0.0, float(scaled(reach, x)))
            axes.set_ylim(0.0, float(scaled(1.06 * most.max(), unit)))
            plain_ticks(axes)
        labels = [_draw(upper, lower, about, i, (x, *ys)) for i in range(len(tests))]
        upper.set_ylabel(f"Axial force of one girder ({ys[0]})")
        lower.set_ylabel(f"Energy of one girder ({ys[1]})")
        lower.set_xlabel(f"Stroke from contact ({x})")
        upper.tick_params(labelbottom=False)
        margin_labels(lower, [*_levels(about, reach, ys[1]), *_chosen(tests, labels)], RIGHT)
    return figure


def _held(about: Findings) -> str:
    return "this case" if not about.against.sha256 else about.against.name


def _note(about: Findings) -> str:
    kinds = sorted({_filter(test) for test in about.found.tests})
    measured = f"Lines with markers: measured, to the largest stroke; {', '.join(kinds)}."
    return f"{measured} Band: predicted, low to high."


def _filter(test: Compared) -> str:
    kind = test.record.filter_class
    return "not filtered" if kind is None else f"class {kind:g}"


def _draw(
    upper: Axes, lower: Axes, about: Findings, index: int, units: tuple[str, str, str]
) -> Label:
    """Draw one crush in both axes; its label beside the end of its energy."""
    test = about.found.tests[index]
    record, marker = test.record, MARKERS[index % len(MARKERS)]
    step = max(1, len(record.stroke) // POINTS)
    at = np.unique(np.append(np.arange(0, len(record.stroke), step), len(record.stroke) - 1))
    line = HELD | ({"color": LIMIT, "linewidth": BOLD} if test.disagrees else {"linewidth": FINE})
    share = (np.arange(SPOTS) + (index + 0.5) / len(about.found.tests)) / SPOTS
    spots = np.searchsorted(record.stroke[at], share * record.stroke[-1]).clip(max=len(at) - 1)
    x = scaled(record.stroke[at], units[0])
    for axes, values, unit in (
        (upper, record.force, units[1]),
        (lower, record.energy, units[2]),
    ):
        axes.plot(
            x,
            scaled(values[at], unit),
            marker=marker,
            markersize=SPOT,
            markevery=spots.tolist(),
            gid=f"measured {record.name}",
            zorder=3,
            **line,
        )
    end = float(scaled(record.energy[-1], units[2]))
    text = f"{record.name}: {test.ratio:.2f} × predicted"
    return Label(end, text + ("\nDISAGREES" if test.disagrees else ""), str(line["color"]), marker)


def _chosen(tests: Sequence[Compared], labels: Sequence[Label]) -> list[Label]:
    if len(labels) <= NAMED:
        return list(labels)
    return [label for test, label in zip(tests, labels, strict=True) if test.disagrees][:FLAGGED]


def _levels(about: Findings, reach: float, unit: str) -> list[Label]:
    ends = about.against.energy_at(reach)
    return [
        Label(float(scaled(ends[k], unit)), LEVELS[k], str(LINES[k]["color"])) for k in range(3)
    ]

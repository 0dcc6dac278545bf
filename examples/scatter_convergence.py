"""Sobol points against random numbers: how fast a study converges.

Mass and touchdown speed of the Dunlin test stage scatter, its girder does not. Every seed gives
one answer; drawn is how far the answers lie from that of very many landings, root mean square.

Run: python examples/scatter_convergence.py [FOLDER]
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from matplotlib.ticker import FuncFormatter, NullFormatter

import crushleg
from crushleg.report.files import make_folder, write_bytes
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.plots import FORMATS, rendered
from crushleg.report.style import CHAIN, DOTS, FINE, MARKERS, SOFT, WAYS, styled
from crushleg.scatter.chain import evaluate
from crushleg.scatter.study import study

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case

CASE = Path(__file__).parent / "dunlin.toml"
SCATTERED = (
    "scatter.defaults=false",
    'scatter.input=[{key="vehicle.mass"}, {key="touchdown.nominal.vertical_speed"}]',
)
METHODS = ("sobol", "random")
MARGIN = ("stroke", "nominal")
BELOW = 2.2
"""Margin whose probability of not being reached is asked for."""
SEEDS, LANDINGS, REFERENCE = 16, 4096, 65536
LOOKS: dict[str, dict[str, object]] = {
    "sobol": WAYS[0] | {"marker": MARKERS[0]},
    "random": WAYS[1] | {"marker": MARKERS[1]},
}


def margins(case: Case, method: str, seed: int, landings: int) -> FloatArray:
    """Margin of every landing of a study, shape (landings,)."""
    assert case.scatter is not None
    scatter = replace(case.scatter, method=method, seed=seed, samples=landings)
    found = study(replace(case, scatter=scatter), evaluate)
    row: FloatArray = found.margin[found.names.index(MARGIN)]
    return row


def errors(
    case: Case, seeds: int = SEEDS, landings: int = LANDINGS, reference: int = REFERENCE
) -> tuple[FloatArray, dict[str, FloatArray]]:
    """Landings (K,) and per method the errors of mean and probability, (2, K), over the seeds."""
    best = margins(case, "sobol", 0, reference)
    right = np.array([best.mean(), (best < BELOW).mean()])
    at = 2 ** np.arange(4, int(np.log2(landings)) + 1)
    found = {}
    for method in METHODS:
        rows = np.array([margins(case, method, seed, landings) for seed in range(1, seeds + 1)])
        both = np.stack([rows, rows < BELOW])
        means = np.cumsum(both, axis=2)[:, :, at - 1] / at
        found[method] = np.sqrt(((means - right[:, None, None]) ** 2).mean(axis=1))
    return at.astype(np.float64), found


def figure(case: Case, at: FloatArray, found: dict[str, FloatArray]) -> Figure:
    """Errors against landings, mean and probability."""
    with styled():
        what = f"Error of a study against its landings, {MARGIN[0]} margin, {MARGIN[1]}"
        drawn = sheet(crushleg.check_case(case), what, 82.0)
        wide = (PAGE - 46.0) / 2.0
        names = ("Error of the mean", f"Error of the probability of less than {BELOW:g}")
        for k, name in enumerate(names):
            axes = place(drawn, 20.0 + k * (wide + 22.0), 16.0, wide, 60.0)
            _panel(axes, at, {method: rows[k] for method, rows in found.items()})
            axes.set_ylabel(f"{name} (-)")
    return drawn


def _panel(axes: Axes, at: FloatArray, rows: dict[str, FloatArray]) -> None:
    for method, error in rows.items():
        axes.loglog(at, np.where(error > 0.0, error, np.nan), label=method, **LOOKS[method])
    for power, dash in ((0.5, DOTS), (1.0, CHAIN)):
        line = rows["random"][0] * (at / at[0]) ** -power
        text = "1/√n" if power < 1.0 else "1/n"
        axes.loglog(at, line, color=SOFT, linestyle=dash, linewidth=FINE, label=text)
    for axis in (axes.xaxis, axes.yaxis):
        axis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g}"))
        axis.set_minor_formatter(NullFormatter())
    axes.set_xlabel("Landings n")
    axes.legend(loc="lower left", bbox_to_anchor=(0.03, 0.03))


def main(folder: Path) -> None:
    """Write the figure and print the errors at the most landings."""
    case = crushleg.read_case(CASE, SCATTERED)
    at, found = errors(case)
    drawn = figure(case, at, found)
    make_folder(folder)
    for kind in FORMATS:
        write_bytes(folder / f"scatter-convergence-methods.{kind}", rendered(drawn, kind))
    for method, (mean, probability) in found.items():
        ends = f"mean {mean[-1]:.1e}, probability {probability[-1]:.1e}"
        print(f"{method:8}{at[-1]:.0f} landings: {ends}")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path("scatter-convergence"))

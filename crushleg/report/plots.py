"""Figures of a check: drawn, rendered, and written beside and renamed."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from crushleg.report.files import make_folder, write_bytes
from crushleg.report.plot_energy import energy_figure
from crushleg.report.plot_force import force_figure
from crushleg.report.plot_girder import girder_figure
from crushleg.report.plot_time import time_figure
from crushleg.report.style import styled

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from matplotlib.figure import Figure

    from crushleg.check import Checked

FORMATS = ("svg", "png")


def figures(checked: Checked, units: str = "si") -> dict[str, Figure]:
    """Figures of a checked case by name.

    Parameters
    ----------
    checked : Checked
    units : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    dict
        force-stroke, energy-stroke, force-time, girder.
    """
    return {
        "force-stroke": force_figure(checked, units),
        "energy-stroke": energy_figure(checked, units),
        "force-time": time_figure(checked, units),
        "girder": girder_figure(checked, units),
    }


def rendered(figure: Figure, kind: str) -> bytes:
    """Bytes of a figure, the same for the same figure.

    Parameters
    ----------
    figure : Figure
    kind : str
        "svg", "png" or "pdf".

    Returns
    -------
    bytes
    """
    dates = {"svg": {"Date": None}, "pdf": {"CreationDate": None}}
    buffer = io.BytesIO()
    with styled():
        figure.savefig(buffer, format=kind, metadata=dates.get(kind))
    return buffer.getvalue()


def draw(
    checked: Checked, folder: Path, units: str = "si", formats: Sequence[str] = FORMATS
) -> list[Path]:
    """Write every figure into a folder, which is made if it is not there.

    Parameters
    ----------
    checked : Checked
    folder : Path
    units : str, optional
        Units of display, "si" or "us".
    formats : sequence of str, optional
        Of "svg", "png", "pdf".

    Returns
    -------
    list of Path
        The files, each written beside and renamed; none before all are rendered.

    Raises
    ------
    InputError
        The folder cannot be made or written; files that were there are left.
    """
    return write_figures(figures(checked, units), folder, formats)


def write_figures(
    drawn: Mapping[str, Figure], folder: Path, formats: Sequence[str] = FORMATS
) -> list[Path]:
    """Write figures by their names; as :func:`draw`."""
    ready = {
        f"{name}.{kind}": rendered(figure, kind)
        for name, figure in drawn.items()
        for kind in formats
    }
    into = make_folder(folder)
    for name, data in ready.items():
        write_bytes(into / name, data)
    return [into / name for name in ready]

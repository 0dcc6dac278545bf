"""The files of a drilling schedule: all bytes first, then each written beside and renamed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.report.drill_csv import rules_csv, schedule_csv
from crushleg.report.drill_layout import layout_of
from crushleg.report.drill_pdf import pdf
from crushleg.report.drill_svg import svg
from crushleg.report.files import check_targets, make_folder, write_bytes
from crushleg.report.plot_labels import clean

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.report.drill_words import Drilling

SCHEDULE, RULES, LAYOUT = "drill-schedule", "drill-rules", "drill-layout"


def drill_files(
    drilling: Drilling, paper: str | None = "a4", system: str = "si", *, with_dxf: bool = False
) -> dict[str, bytes]:
    """Bytes of every file by its name.

    Parameters
    ----------
    drilling : Drilling
    paper : str or None, optional
        "a4", "a3" or "letter"; None leaves the PDF out.
    system : str, optional
        Units of texts, table and scale bar, "si" or "us".
    with_dxf : bool, optional
        Needs the extra ``dxf``.

    Returns
    -------
    dict

    Raises
    ------
    InputError
        Too many pages, or ezdxf is missing.
    """
    layout, title = layout_of(drilling, system), clean(drilling.title)
    files = {
        f"{SCHEDULE}.csv": schedule_csv(drilling, system).encode(),
        f"{RULES}.csv": rules_csv(drilling, system).encode(),
        f"{LAYOUT}.svg": svg(layout, title),
    }
    if paper is not None:
        stamp = clean(f"input {drilling.digest[:8]} · revision {drilling.revision}")
        files[f"{LAYOUT}.pdf"] = pdf(layout, title, stamp, paper, system)
    if with_dxf:
        from crushleg.report.drill_dxf import dxf  # noqa: PLC0415 - an optional extra

        files[f"{LAYOUT}.dxf"] = dxf(layout)
    return files


def write_drill_files(files: dict[str, bytes], folder: Path) -> list[Path]:
    """Write the files into a folder, which is made if it is missing; none if one cannot be.

    Raises
    ------
    InputError
        A file cannot be written: which, why and what to do.
    """
    place = make_folder(folder)
    for name in files:
        check_targets(place / name, None, ())
    for name, data in files.items():
        write_bytes(place / name, data)
    return [place / name for name in files]

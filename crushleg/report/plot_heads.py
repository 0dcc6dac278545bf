"""What stands over a panel of force against time: name, peaks, bottoming."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from crushleg.report.plot_curves import full_name
from crushleg.report.plot_labels import fitted, height_of, paper_size
from crushleg.report.style import INK, LEADING, LEVELS, SIZE, SMALL, SOFT, number

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from crushleg.landing.touchdown import Landed

UNDER, OVER = 1.2, 4.6


class Head(NamedTuple):
    """Name and summary of a panel, broken into lines."""

    name: str
    summary: str

    @property
    def height(self) -> float:
        """Height over the panel, with the gap to what is above [mm]."""
        return UNDER + height_of(self.summary, SMALL) + height_of(self.name) + OVER


def head(landed: Landed, unit: str, room: float, *, foot: bool) -> Head:
    """Head of a panel ``room`` mm wide; ``foot``: the folds come from the foot."""
    lines = summary(landed, unit, foot=foot)
    return Head(
        fitted(full_name(landed), room, bold=True, lines=3),
        "\n".join(fitted(line, room, size=SMALL) for line in lines),
    )


def summary(landed: Landed, unit: str, *, foot: bool) -> list[str]:
    """Peak axial load, low nominal high, whether it bottoms, and what the curves do not show."""
    peaks = ", ".join(number(float(peak), unit) for peak in landed.peak[:, 0])
    bottoms = [name for name, bad in zip(LEVELS, landed.bottomed[:, 0], strict=True) if bad]
    which = "all" if len(bottoms) == len(LEVELS) else ", ".join(bottoms)
    end = f"; BOTTOMS: {which}" if bottoms else " (low, nominal, high)"
    lines = [f"peak {peaks} {unit}{end}"]
    if not foot:
        lines.append("with the largest start force of all zones: not on the curves")
    return lines


def write_head(axes: Axes, text: Head) -> None:
    """Write name and summary over a panel."""
    height = paper_size(axes)[1]
    how: dict[str, Any] = {"transform": axes.transAxes, "va": "bottom", "linespacing": LEADING}
    axes.text(0.0, 1.0 + UNDER / height, text.summary, fontsize=SMALL, color=SOFT, **how)
    at = 1.0 + (UNDER + height_of(text.summary, SMALL)) / height
    axes.text(0.0, at, text.name, fontsize=SIZE, color=INK, weight="bold", **how)

"""Checked cases, printed: what the tests of the report look at."""

from __future__ import annotations

import re
from functools import cache
from io import StringIO
from typing import TYPE_CHECKING

from rich.console import Console

from crushleg import Checked, check_case, read_case_text, template
from crushleg.report.text import print_report

if TYPE_CHECKING:
    from collections.abc import Callable

KINDS = ("test-stage", "lunar-lander", "coupon")
HEAVY = 'vehicle.mass="120 t"'
WIDTH = 80
ENDLESS = ("test-stage", 'vehicle.mass="400 t"')
"""Its weight exceeds the crush force."""


@cache
def checked(kind: str, *overrides: str, more: str = "") -> Checked:
    """Check a template with overrides; ``more`` is put behind its text."""
    return check_case(read_case_text(template(kind) + more, kind, overrides))


def terminal(width: int = WIDTH) -> Console:
    """Terminal of a width, with colours."""
    return Console(
        file=StringIO(),
        force_terminal=True,
        width=width,
        color_system="truecolor",
        legacy_windows=False,
    )


def printed(show: Callable[[Console], None], console: Console | None = None) -> str:
    """Return what ``show`` prints on a console; on a pipe when none is given."""
    console = Console(file=StringIO(), force_terminal=False) if console is None else console
    show(console)
    assert isinstance(console.file, StringIO)
    return console.file.getvalue()


def report(case: Checked, units: str = "si", console: Console | None = None) -> str:
    """Return the printed report."""
    return printed(lambda console: print_report(case, console, units), console)


def bare(text: str) -> str:
    """Text without the codes of a terminal."""
    return re.sub(r"\x1b\[[0-9;]*m", "", text)


def line(text: str, begins: str) -> str:
    """Find the first line that begins so."""
    found = [line for line in text.splitlines() if line.strip().startswith(begins)]
    assert found, begins
    return found[0].strip()


ANY_TOUCHDOWN = """
[[touchdown]]
name = "number {0}, a long name for a landing on a slope with the engine still running"
vertical_speed = "{1} m/s"
horizontal_speed = "0.4 m/s"
slope = "3 deg"
attitude = "-1 deg"
attitude_rate = "1 deg/s"
thrust_to_weight = 0.3
"""
MANY = "".join(ANY_TOUCHDOWN.format(i, 1.0 + 0.1 * i) for i in range(15))
FIRST_LEG = ANY_TOUCHDOWN.format("first leg", 2.0) + 'first_contact = "one"\n'
LONG = f"""title="{"A very long title " * 12}{"without_any_space" * 8}\""""
SLOTS = (
    'girder.holes={law="listed", row=[{height="200 mm", size="30 mm", size_along="90 mm", '
    'shape="slot", per_face=2, spacing="50 mm", faces="front-back"}]}'
)
STEPS = 'girder.wall_steps=[{from="500 mm", wall="5 mm"}]'
WEAK_TOP = 'girder.holes.sizes=["20 mm", "38 mm", "52 mm", "64 mm", "74 mm", "82 mm"]'
SIDE = 'leg.side_load="girder"'

CASES = {
    **{kind: checked(kind) for kind in KINDS},
    "heavy": checked("test-stage", HEAVY),
    "endless": checked(*ENDLESS),
    "light": checked("test-stage", 'vehicle.mass="2 t"', WEAK_TOP),
    "many": checked("test-stage", more=MANY),
    "first leg": checked("lunar-lander", more=FIRST_LEG),
    "long title": checked("coupon", LONG),
    "slots": checked("test-stage", SLOTS, STEPS),
    "plain": checked("test-stage", 'girder.holes={law="none"}', SIDE),
}

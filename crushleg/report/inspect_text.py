"""The printed inspection: speed first, then what is flagged, the legs, the rest, what to check."""

from __future__ import annotations

from importlib.metadata import version
from typing import TYPE_CHECKING

from rich.console import Console

from crushleg.cautions import SCREENING
from crushleg.report.inspect_flags import flags
from crushleg.report.inspect_tables import (
    causes_table,
    energy_table,
    ledger_table,
    left_table,
    readings_table,
)
from crushleg.report.inspect_words import (
    NO_RELEASE,
    cautions,
    dominant,
    lean_words,
    method,
    speed_words,
    to_check,
    why_bound,
)
from crushleg.report.layout import Heading, Items, Pairs, Paragraph, items, plain_text, print_blocks
from crushleg.trial.judged import fastest
from crushleg.units import plain, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.report.layout import Block
    from crushleg.trial.inspect import Inspection

HASH_DIGITS = 12
BAD = "bold red"


def print_inspection(found: Inspection, console: Console | None = None, units: str = "si") -> None:
    """Print an inspection: aligned within the terminal's width, or plain and unwrapped elsewhere.

    Parameters
    ----------
    found : Inspection
    console : Console, optional
        Standard output when left out.
    units : str
        "si" or "us".
    """
    print_blocks(render(found, units), Console() if console is None else console)


def inspection_text(found: Inspection, units: str = "si") -> str:
    """Return the inspection as plain text, as it goes into a pipe or a file."""
    return plain_text(render(found, units))


def render(found: Inspection, units: str = "si") -> list[Block]:
    """Blocks of the report in their order.

    Parameters
    ----------
    found : Inspection
    units : str
        "si" or "us".

    Returns
    -------
    list of blocks
    """
    return [
        Paragraph(f"Inspection after landing: {found.case.title}", "bold"),
        Paragraph(head(found)),
        Paragraph(speed_words(found, units), "bold"),
        *(Paragraph(text) for text in why_bound(found, units)),
        Paragraph(NO_RELEASE, BAD),
        *_flagged(found, units),
        Heading("Legs as read"),
        readings_table(found, units),
        Heading("Energy"),
        energy_table(found, units),
        ledger_table(found, units),
        Heading("Speed"),
        Pairs(list(_speed(found, units))),
        causes_table(found, units),
        Heading("At rest"),
        Pairs(list(at_rest_pairs(found, units))),
        Heading("Left in the legs by their curve, not for another landing"),
        left_table(found, units),
        Heading("Check on the vehicle"),
        Items(to_check(found)),
        Heading("How it was computed"),
        Items(method(found, units)),
        Heading("Cautions"),
        items((x for x in cautions(found) if x not in (SCREENING, NO_RELEASE)), units),
        Heading("Before you use this"),
        Paragraph(SCREENING, "bold"),
    ]


def head(found: Inspection) -> str:
    """Revision, author, hashes, version."""
    case, heights = found.case, found.heights
    about = {"revision": case.revision, "author": case.author}
    said = [f"{name} {value}" for name, value in about.items() if value]
    said.append(f"input {case.input_sha256[:HASH_DIGITS]}")
    hashed = f" {heights.sha256[:HASH_DIGITS]}" if heights.sha256 else ""
    said.append(f"readings {heights.source}{hashed}")
    return ", ".join([*said, f"crushleg {version('crushleg')}"])


def _flagged(found: Inspection, units: str) -> Iterator[Block]:
    texts = flags(found, units)
    yield Heading("Flagged")
    if texts:
        yield Items(texts)
    else:
        yield Paragraph("Nothing flagged in the readings; the checks below remain.")


def _speed(found: Inspection, units: str) -> Iterator[tuple[str, str]]:
    arrival, asked = found.arrival, found.asked
    thrust = f", thrust {show(arrival.thrust, 'force', units)}" if arrival.thrust else ""
    mass = show(arrival.mass, "mass", units, 4)
    yield "touchdown", f"{found.touchdown.name}: for mass, gravity, thrust and first contact"
    error = plain(100.0 * asked.mass_error)
    yield (
        "mass",
        f"{mass} ± {error} %, net weight {show(arrival.net_weight, 'force', units)}{thrust}",
    )
    fall = show(float(found.band.travel[1]), "length", units)
    drop = found.stopped.drop
    before = f", {show(drop, 'length', units)} of it before all pads touched" if drop else ""
    yield "way down", f"the axis came down {fall} to the bottom{before}"
    if asked.other is not None:
        other, error_ = (show(x, "energy", units) for x in asked.other_known)
        yield "not in legs", f"{other} ± {error_}, as given"
    yield "found", speed_words(found, units).removeprefix("Speed at touchdown: ").rstrip(".")
    closing = show(arrival.closing, "speed", units)
    most = show(fastest(found), "speed", units)
    yield "case", f"{found.touchdown.name} {closing}; fastest touchdown {most}"
    yield "band", dominant(found)


def at_rest_pairs(found: Inspection, units: str) -> Iterator[tuple[str, str]]:
    """Lean, clearance and standing in words."""
    rest, limits = found.rest, found.case.limits
    yield "lean", _lean(found, units)
    if rest.clearance is None or rest.clearance_error is None:
        yield "clearance", "not known: the case gives no clearance"
    else:
        left = show(rest.clearance, "length", units)
        error = show(rest.clearance_error, "length", units, 2)
        least = f"; clearance_min {show(limits.clearance_min, 'length', units)}"
        sinkage = ", sinkage of the pads not taken off"
        yield "clearance", f"{left} ± {error} left{sinkage}{least if limits.clearance_min else ''}"
    load, hold = (show(x, "force", units) for x in (rest.load, float(found.left.hold.min())))
    yield "standing", f"{load} on the worst leg, thrust off; least low mean force {hold}"


def _lean(found: Inspection, units: str) -> str:
    limit = found.case.limits.lean_max
    if found.rest.lean is None:
        return "not known: one leg, or no pad_circle_radius"
    most = "" if limit is None else f"; lean_max {show(limit, 'angle', units)}"
    said = lean_words(found).removeprefix("lean ")
    return f"{said}, against the ground: a slope comes on top{most}"

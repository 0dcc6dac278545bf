"""Which name of :mod:`crushleg.explain` a label of a report stands for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.explain import names
from crushleg.report.layout import Pairs, Table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from crushleg.report.layout import Block, Column
    from crushleg.report.page import Section

LABELS = {
    label: name
    for name, labels in {
        "energy_demand": "energy to the stop|energy to end of usable stroke",
        "crush": "permanent crush|elastic energy returned|crush per leg|crush that stays",
        "stroke": "stroke needed",
        "leg_load": "axial",
        "deceleration": "decel.",
        "least_clearance": "clear.",
        "gear_factor": "gear load factor",
        "load_cell": "peak at the load cell",
        "duration": "time to stop",
        "folds_used": "folds",
        "tip_angle_left": "tip-over angle|tip|energy to tip",
        "lean": "lean at the end",
        "motion": "angular rate|slide",
        "ledger": "imbalance|largest imbalance of any step",
        "hardening_flow_stress": "alternative",
        "mean_force": "low mean force",
        "plain_mean_force": "mode of the plain column|h|mean",
        "hinge_fraction": "removed",
        "efficiency": "e/(fpeak s)|efficiency mean/largest",
        "specific_energy": "last/first fold|specific energy / plain",
        "round_tube": "specific energy / round tube",
        "constant_force": "leg load / constant force",
        "sensitivity": "stroke wall / holes / speed|leg load wall / holes / speed",
        "collapse_sequence": "sequence",
        "margin": "governing margin",
        "probability": "fails",
        "percentile": "quantity",
        "sobol_indices": "with interactions",
        "tornado": "margin at 5 %",
        "force_factor": "force factor 95 % limits|next test over prediction",
        "equivalent_mass": "mass in this rig",
        "readings": "work of one leg",
        "speed_from_crush": "kinetic energy at touchdown",
    }.items()
    for label in labels.split("|")
}
"""Labels that are spelt otherwise than the names; lower case, up to the first comma or bracket."""
HEADS = {"energy": "force", "mass": "girder_mass"}
"""Labels that mean something else at the head of a column than in a row."""
OF_THE_GIRDER = "flow stress"
"""Label that shows pairs to be those of a girder, where mass and stroke are its own."""
GIRDER = {"mass": "girder_mass", "stroke": "usable_stroke", "sequence": "sequence"}
LEDGER = "energy,"
"""How the head of the rows of a ledger begins."""
OF_VERB = {
    "correlate": {
        "stroke": "",
        "mean force": "",
        "first peak": "",
        "measured / predicted": "bias",
        "folds read": "measured_folds",
        "folds predicted": "folds_used",
        "usable stroke": "measured_usable_stroke",
    },
    "inspect": {
        "stroke left": "usable_stroke",
        "energy": "speed_from_crush",
        "energy left": "",
        "force": "",
    },
}
"""Labels that mean something else in the report of a verb."""


class Links:
    """Names for the labels of one verb's report; ``known`` are those that can be linked to."""

    def __init__(self, verb: str, known: Iterable[str] = ()) -> None:
        self.own = OF_VERB.get(verb, {})
        self.known = frozenset(known)

    def name(self, label: str) -> str:
        """Name that a label stands for, empty if it is none.

        >>> links = Links("check")
        >>> links.name("peak force, axial, one leg, kN"), links.name("gear load factor F/(m g0)")
        ('peak_force', 'gear_factor')
        """
        whole = label.lower().strip()
        short = whole.partition(",")[0].partition("(")[0].strip()
        for text in (whole, short, short.rpartition(" ")[0]):
            spelt = text.replace("-", " ").replace(" ", "_")
            for found in (self.own.get(text), LABELS.get(text)):
                if found is not None:
                    return found
            if spelt in names():
                return spelt
        return ""

    def head(self, column: Column, *, first: bool = False) -> str:
        """Name for the head of a column."""
        label = " ".join(column.head).lower()
        if first and not column.number and label.startswith(LEDGER):
            return "ledger"
        word = column.head[0].partition(",")[0].lower() if column.head else ""
        return HEADS[word] if word in HEADS and word not in self.own else self.name(label)

    def row(self, table: Table, index: int) -> str:
        """Name for the first cell of a row."""
        return "" if table.columns[0].number else self.name(table.rows[index][0])

    def pairs(self, block: Pairs) -> list[str]:
        """Name of each label of pairs; only those of a girder are quantities."""
        labels = [label for label, _ in block.pairs]
        if OF_THE_GIRDER not in labels:
            return [""] * len(labels)
        return [GIRDER.get(label) or self.name(label) for label in labels]

    def within(self, sections: Iterable[Section], more: set[str]) -> tuple[str, ...]:
        """Names that occur in sections, and more, in the order in which they are explained."""
        found = more | {name for s in sections for block in s.blocks for name in self._names(block)}
        return tuple(name for name in names() if name in found)

    def _names(self, block: Block) -> Iterator[str]:
        if isinstance(block, Table):
            for k, column in enumerate(block.columns):
                yield self.head(column, first=k == 0)
            yield from (self.row(block, index) for index in range(len(block.rows)))
        elif isinstance(block, Pairs):
            yield from self.pairs(block)

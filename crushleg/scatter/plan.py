"""Which inputs of a case scatter: those of [scatter], and the defaults."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from crushleg.case.records import Scatter, ScatterCorrelation
from crushleg.case.scatter_keys import ULTIMATE, YIELD
from crushleg.scatter.defaults import default_inputs, judge_tolerances

if TYPE_CHECKING:
    from crushleg.case.records import Case, ScatterInput

STRENGTH_CORRELATION = 0.75
TOGETHER = "0.75, of structural steel (JCSS probabilistic model code, from memory)"


class Plan(NamedTuple):
    """What a study draws: inputs in the order of their dimensions, correlations, why."""

    scatter: Scatter
    inputs: tuple[ScatterInput, ...]
    correlations: tuple[ScatterCorrelation, ...]
    legs: int
    notes: tuple[str, ...]


@lru_cache(maxsize=4)
def _planned(case: _ById) -> Plan:
    return _plan(case.case)


class _ById:
    """A case as a key of a cache: the same object, not an equal one."""

    def __init__(self, case: Case) -> None:
        self.case = case

    def __hash__(self) -> int:
        return id(self.case)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _ById) and other.case is self.case


def plan_of(case: Case) -> Plan:
    """List the inputs and correlations of a case, those by default filled in.

    Parameters
    ----------
    case : Case

    Returns
    -------
    Plan
        The same one for the same case object: the default σ of the model needs its girder.
    """
    return _planned(_ById(case))


def _plan(case: Case) -> Plan:
    scatter = case.scatter or Scatter()
    usual = {one.key: one for one in default_inputs(case)}
    asked = [
        replace(usual[one.key], part=one.part) if one.key in usual and not one.distribution else one
        for one in scatter.inputs
    ]
    notes = [f"{one.key} does not scatter: no tolerance." for one in asked if not one.distribution]
    inputs = [one for one in asked if one.distribution]
    listed = {one.key for one in asked}
    if scatter.defaults:
        inputs += [one for key, one in usual.items() if key not in listed]
    judge_tolerances(case, inputs)
    pairs = list(scatter.correlations)
    if {YIELD, ULTIMATE} <= {one.key for one in inputs} - listed and not _tied(pairs):
        pairs.append(ScatterCorrelation(inputs=(YIELD, ULTIMATE), value=STRENGTH_CORRELATION))
        notes.append(f"Yield and ultimate strength are correlated, {TOGETHER}.")
    there = {(one.key, one.part) for one in inputs}
    kept = tuple(p for p in pairs if {(key, p.part) for key in p.inputs} <= there)
    lost = [" and ".join(pair.inputs) for pair in pairs if pair not in kept]
    notes += [f"The correlation of {names} is left out: one does not scatter." for names in lost]
    return Plan(scatter, tuple(inputs), kept, case.vehicle.legs, tuple(notes))


def _tied(pairs: list[ScatterCorrelation]) -> bool:
    return any({YIELD, ULTIMATE} & set(pair.inputs) for pair in pairs)

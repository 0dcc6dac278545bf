"""A material datasheet, read: strengths with low, nominal and high, each with its source."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from crushleg.case.records import Band

CRUSHING = ("folds", "may split", "splits")
STATUS = ("published", "from memory", "derived", "common practice")


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where the value of one datasheet field comes from, and how well it is known."""

    field: str
    source: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthAtTemperature:
    """Yield and ultimate over their value at room temperature, at one temperature [K]."""

    temperature: float
    yield_ratio: Band
    ultimate_ratio: Band


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """Strain-rate pair: 1 + (rate / D)^(1/q), over its value at the tensile test's rate."""

    D: float
    q: float
    fitted_at: str
    test_rate: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One datasheet. Strengths [Pa], density [kg/m3], temperatures [K]."""

    key: str
    name: str
    designation: str
    condition: str
    crushing: str
    note: str
    heat_treated: bool
    density: float
    youngs_modulus: float
    poisson_ratio: float
    yield_strength: Band
    ultimate_strength: Band
    compressive_yield: Band | None = None
    elongation: float | None = None
    hardening_exponent: float | None = None
    bend_radius: float | None = None
    strength_with_temperature: tuple[StrengthAtTemperature, ...] = ()
    rate: Rate | None = None
    sources: tuple[Source, ...] = ()

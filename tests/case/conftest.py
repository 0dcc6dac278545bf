"""A small valid case and datasheet, and readers of edited copies."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

import pytest

from crushleg.case.reader import read_case_text
from crushleg.errors import InputError

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.case.records import Case

DATASHEET = """\
name = "Test steel"
designation = "none"
condition = "annealed"
crushing = "folds"

[density]
nominal = "7900 kg/m3"
source = "invented"
status = "common practice"
[youngs_modulus]
nominal = "200 GPa"
source = "invented"
status = "common practice"
[poisson_ratio]
nominal = 0.3
source = "invented"
status = "common practice"
[yield_strength]
low = "220 MPa"
nominal = "300 MPa"
high = "350 MPa"
source = "invented"
status = "common practice"
[ultimate_strength]
low = "520 MPa"
nominal = "650 MPa"
high = "700 MPa"
source = "invented"
status = "common practice"
[elongation]
nominal = "40 %"
source = "invented"
status = "common practice"
"""

WARM = """\
[strength_with_temperature]
temperature = ["77 K", "294 K"]
yield_ratio = { low = [1.2, 1.0], nominal = [1.5, 1.0], high = [2.0, 1.0] }
ultimate_ratio = { low = [2.0, 1.0], nominal = [2.2, 1.0], high = [2.5, 1.0] }
source = "invented"
status = "derived"
[rate]
D = "100 1/s"
q = 10
fitted_at = "yield"
test_rate = "0.001 1/s"
source = "invented"
status = "from memory"
"""

CASE = """\
title = "Small case"

[vehicle]
mass = "40 t"
legs = 6
centre_of_gravity_height = "9.0 m"
pad_circle_radius = "3.4 m"
radius_of_gyration = "5.2 m"
clearance = "0.80 m"

[leg]
side_load = "guide"

[girder]
material = "steel.toml"
width = "140 mm"
wall = "4 mm"
length = "1000 mm"

[girder.holes]
law = "stepped"
first = "80 mm"
row_pitch = "130 mm"
sizes = ["82 mm", "74 mm", "64 mm"]

[[touchdown]]
name = "nominal"
vertical_speed = "3.5 m/s"

[[touchdown]]
name = "reserve"
vertical_speed = "3.5 m/s"
reserve = true

[[standing]]
name = "fuelled"
mass = "50 t"
"""


class Read(Protocol):
    """Read the small case with overrides, or another text."""

    def __call__(self, *overrides: str, text: str = CASE) -> Case:
        """Return the case."""
        ...


class Complain(Protocol):
    """Problems of the small case with overrides, or of another text."""

    def __call__(self, *overrides: str, text: str = CASE) -> list[str]:
        """Return one text per problem."""
        ...


@pytest.fixture
def case_text() -> str:
    return CASE


@pytest.fixture
def datasheet_text() -> str:
    return DATASHEET


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Folder with three datasheets."""
    (tmp_path / "steel.toml").write_text(DATASHEET, encoding="utf-8")
    (tmp_path / "warm.toml").write_text(DATASHEET + WARM, encoding="utf-8")
    (tmp_path / "temper.toml").write_text("heat_treated = true\n" + DATASHEET, encoding="utf-8")
    return tmp_path


@pytest.fixture
def read(folder: Path) -> Read:
    def reader(*overrides: str, text: str = CASE) -> Case:
        return read_case_text(text, "case.toml", overrides, folder)

    return reader


@pytest.fixture
def complain(read: Read) -> Complain:
    def complaints(*overrides: str, text: str = CASE) -> list[str]:
        with pytest.raises(InputError) as caught:
            read(*overrides, text=text)
        return [str(problem) for problem in caught.value.problems]

    return complaints

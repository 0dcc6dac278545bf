"""The worst landing as a case file: `check` gives its margins."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from crushleg.case.reader import read_case
from crushleg.case.templates import template
from crushleg.check import check_case
from crushleg.scatter.sample import sampled_case, values_of
from crushleg.scatter.sampling import draws
from crushleg.scatter.study import study
from crushleg.scatter.worst import worst_case_text, worst_of
from tests.scatter.evaluations import one_by_one

if TYPE_CHECKING:
    from pathlib import Path

ALL_KINDS = """
[scatter]
samples = 64
[[scatter.input]]
key = "girder.holes.row_pitch"
distribution = "normal"
deviation = "0.5 mm"
[[scatter.input]]
key = "touchdown.nominal.slope"
distribution = "uniform"
low = "0 deg"
high = "3 deg"
[[scatter.input]]
key = "girder.measured.yield_strength"
[[scatter.input]]
key = "girder.temperature"
distribution = "normal"
deviation = "0.5 K"
[girder.measured]
yield_strength = "301 MPa"
"""


def written(folder: Path, text: str, index: int, *overrides: str) -> tuple[Path, Path]:
    """Write a case and one of its landings; return the paths."""
    case_path, out = folder / "case.toml", folder / "out"
    case_path.write_text(text, encoding="utf-8")
    out.mkdir(exist_ok=True)
    case = read_case(case_path, overrides)
    values = values_of(draws(case, index, 1), 0)
    files = worst_case_text(case_path, overrides, values, out, "worst", ["one landing"])
    (out / "worst.toml").write_text(files.text, encoding="utf-8")
    for name, content in files.beside.items():
        (out / name).write_text(content, encoding="utf-8")
    return case_path, out / "worst.toml"


def test_check_of_the_worst_case_gives_the_lowest_margin_of_the_study(tmp_path: Path) -> None:
    text = template("test-stage") + "[scatter]\nsamples = 24\n"
    (tmp_path / "case.toml").write_text(text, encoding="utf-8")
    worst = worst_of(study(read_case(tmp_path / "case.toml"), one_by_one))
    assert worst is not None
    checked = check_case(read_case(written(tmp_path, text, worst.number)[1]))
    governs = checked.margins[checked.governs]
    assert (governs.check, governs.touchdown) == worst.name
    assert governs.margin == pytest.approx(worst.margin, abs=1e-9)


@pytest.mark.parametrize("kind", ["test-stage", "coupon", "lunar-lander"])
@pytest.mark.parametrize("index", [0, 17])
def test_check_of_the_written_case_gives_the_margins_of_the_landing(
    tmp_path: Path, kind: str, index: int
) -> None:
    case_path, worst_path = written(tmp_path, template(kind), index)
    same_margins(case_path, worst_path, index)


def test_every_kind_of_key_is_written_so_that_it_reads_back(tmp_path: Path) -> None:
    text = template("test-stage") + ALL_KINDS
    case_path, worst_path = written(tmp_path, text, 5)
    same_margins(case_path, worst_path, 5)


def test_overrides_of_the_study_are_in_the_written_case(tmp_path: Path) -> None:
    overrides = ("girder.holes.law=none", "vehicle.mass=41 t", "girder.length=900 mm")
    case_path, worst_path = written(tmp_path, template("test-stage"), 3, *overrides)
    same_margins(case_path, worst_path, 3, *overrides)


def test_a_datasheet_and_a_correlation_beside_the_case_are_taken_along(tmp_path: Path) -> None:
    (tmp_path / "tests.toml").write_text(
        'force_factor = 1.05\nscatter = 0.04\ntests = 3\nsource = "three drops"\n'
    )
    text = template("test-stage").replace(
        "# correlation =", 'correlation = "tests.toml"  # correlation ='
    )
    case_path, worst_path = written(tmp_path, text, 2)
    same_margins(case_path, worst_path, 2)
    text += '[scatter]\ndefaults = false\n[[scatter.input]]\nkey = "vehicle.mass"\n'
    case_path, worst_path = written(tmp_path, text, 2)
    assert 'correlation = "../tests.toml"' in worst_path.read_text(encoding="utf-8")
    same_margins(case_path, worst_path, 2)


def same_margins(case_path: Path, worst_path: Path, index: int, *overrides: str) -> None:
    case = read_case(case_path, overrides)
    sample = sampled_case(case, values_of(draws(case, index, 1), 0))
    expected, found = check_case(sample).margins, check_case(read_case(worst_path)).margins
    assert [m.check for m in found] == [m.check for m in expected]
    for ours, theirs in zip(found, expected, strict=True):
        assert (ours.margin is None) is (theirs.margin is None)
        if ours.margin is not None and theirs.margin is not None:
            assert np.allclose(ours.margin, theirs.margin, rtol=0.0, atol=1e-9, equal_nan=True)
    assert any(m.margin is not None for m in found)


def test_the_written_case_keeps_comments_and_says_what_it_is(tmp_path: Path) -> None:
    _, worst_path = written(tmp_path, template("test-stage"), 0)
    text = worst_path.read_text(encoding="utf-8")
    assert text.startswith("# one landing\n# A returning test stage")
    assert "# at landing, whole vehicle" in text
    assert "[scatter]\n" not in text.replace("# [scatter]", "")
    factor = (worst_path.parent / "worst-factor.toml").read_text(encoding="utf-8")
    assert "no test" in factor

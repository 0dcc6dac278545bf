"""Files and overrides that a hostile or tired user brings: what the reader must say of them."""

from __future__ import annotations

import os
import threading
from typing import TYPE_CHECKING

import pytest

from crushleg.case.reader import read_case
from crushleg.case.source import LARGEST
from crushleg.errors import InputError

if TYPE_CHECKING:
    from pathlib import Path

    from tests.case.conftest import Complain, Read

UNENDING = 20_000_000
PIPE = 1 << 20
"""Most a pipe may hold beside what was read from it."""


@pytest.mark.parametrize(
    "override",
    [
        "vehicle.centre_of_gravity_height=1e308 m",
        "vehicle.pad_circle_radius=1e308 m",
        "vehicle.radius_of_gyration=1e308 m",
        "vehicle.clearance=1e308 m",
        "vehicle.clearance_radius=1e308 m",
        "vehicle.pad_circle_radius=1e-320 mm",
        "leg.free_length=1e308 m",
        "girder.width=1e308 m",
        "girder.hole_tolerance=1e308 m",
        "girder.effective_length_factor=1e-300",
    ],
)
def test_a_number_no_girder_has_is_refused(complain: Complain, override: str) -> None:
    key = override.partition("=")[0]
    assert any(said.startswith(f"--set {key}: ") for said in complain(override))


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ('nominal = "200 GPa"', 'nominal = "1e-290 GPa"', "youngs_modulus.nominal"),
        ('low = "220 MPa"', 'low = "1e-300 MPa"', "yield_strength.low"),
        ('high = "700 MPa"', 'high = "1e200 MPa"', "ultimate_strength.high"),
    ],
)
def test_a_strength_no_metal_has_is_refused(
    complain: Complain, datasheet_text: str, folder: Path, old: str, new: str, line: str
) -> None:
    (folder / "steel.toml").write_text(datasheet_text.replace(old, new), encoding="utf-8")
    assert any(line in said for said in complain())


@pytest.mark.parametrize("factor", ["1e300", "1e-300"])
def test_a_force_factor_no_test_gives_is_refused(
    complain: Complain, folder: Path, factor: str
) -> None:
    text = f'force_factor = {factor}\nscatter = 0.1\ntests = 3\nsource = "drops"\n'
    (folder / "drops.toml").write_text(text, encoding="utf-8")
    assert any("force_factor" in said for said in complain("girder.correlation=drops.toml"))


def test_an_override_of_one_crest_ratio_is_named_as_it_was_typed(
    complain: Complain, case_text: str
) -> None:
    text = case_text.replace("[girder]\n", "[girder]\ncrest_ratio = [1.2, 1.35, 1.55]\n")
    (said,) = complain("girder.crest_ratio.0=nan", text=text)
    assert said.startswith("--set girder.crest_ratio.0: ")


def test_every_unfit_crest_ratio_is_told(complain: Complain, case_text: str) -> None:
    text = case_text.replace("[girder]\n", '[girder]\ncrest_ratio = [0.5, true, "x"]\n')
    said = "\n".join(complain(text=text))
    assert "0.5" in said
    assert "true" in said
    assert '"x"' in said


def test_a_row_that_cannot_fit_is_not_sent_below_the_foot(complain: Complain) -> None:
    assert not any("less than -" in said for said in complain("girder.length=4 mm"))


def test_no_radius_is_asked_for_where_none_fits(complain: Complain) -> None:
    said = complain("girder.corner_radius=6 mm", "girder.width=7 mm")
    assert not any("4 mm, the wall, to 3.5 mm" in one for one in said)


def test_a_key_of_the_grading_law_is_not_sent_to_a_listed_row(complain: Complain) -> None:
    assert not any("girder.holes.row" in said for said in complain("girder.shape=slot"))


def test_no_holes_is_one_override_away(read: Read) -> None:
    assert read("girder.holes.law=none").girder.holes.rows == ()


def test_a_fraction_with_an_inch_sign_is_sent_to_in(complain: Complain) -> None:
    (said,) = complain("girder.wall='5/32\"'")
    assert '"5/32 in"' in said


def test_line_ends_of_old_are_told_as_such(complain: Complain, case_text: str) -> None:
    (said,) = complain(text=case_text.replace("\n", "\r"))
    assert "line end" in said


def test_a_missing_closing_quote_is_told_as_such(complain: Complain, case_text: str) -> None:
    (said,) = complain(text=case_text.replace('wall = "4 mm"', 'wall = "4 mm'))
    assert "quote" in said


def test_an_empty_datasheet_is_not_called_a_case(complain: Complain, folder: Path) -> None:
    (folder / "steel.toml").write_text("", encoding="utf-8")
    (said,) = complain()
    assert "begin" not in said


def test_an_empty_correlation_is_not_called_a_case(complain: Complain, folder: Path) -> None:
    (folder / "drops.toml").write_text("# later\n", encoding="utf-8")
    (said,) = complain("girder.correlation=drops.toml")
    assert "begin" not in said
    assert "force_factor" in said


def test_an_override_that_puts_a_text_for_a_table_is_blamed_itself(complain: Complain) -> None:
    (said,) = complain("standing.0=4 mm")
    assert said.startswith('--set standing.0: read "4 mm", which is no table; write [[standing]]')


def test_utf16_without_its_mark_is_told_as_such(case_text: str, tmp_path: Path) -> None:
    path = tmp_path / "case.toml"
    path.write_bytes(case_text.encode("utf-16-le"))
    with pytest.raises(InputError, match="a zero byte, as in a text in UTF-16"):
        read_case(path)


def test_a_table_named_after_a_list_is_sent_to_double_brackets(
    complain: Complain, case_text: str
) -> None:
    text = case_text.replace("[[standing]]", '[touchdown.gusty]\nslope = "2 deg"\n[[standing]]')
    (said,) = complain(text=text)
    assert '[[touchdown]], with double brackets, and name = "gusty"' in said


def test_a_key_of_the_grading_law_is_sent_to_its_table(complain: Complain) -> None:
    assert any("it belongs in [girder.holes]" in said for said in complain("girder.shape=slot"))


def test_a_misspelt_key_is_refused_under_no_law_too(complain: Complain) -> None:
    (said,) = complain("girder.holes.law=none", "girder.holes.frist=80 mm")
    assert 'did you mean "first"?' in said


def test_tolerances_leave_hole_and_measured_wall(complain: Complain) -> None:
    (said,) = complain("girder.hole_tolerance=64 mm")
    assert "girder.hole_tolerance: read ± 64 mm; write less than the smallest hole, 64 mm" in said
    (said,) = complain("girder.measured.wall=0.1 mm")
    assert said.startswith("--set girder.measured.wall: read a wall of 0.1 mm; write more than its")


def test_a_case_names_the_other_files_it_was_read_from(read: Read, folder: Path) -> None:
    assert read().beside == (str(folder / "steel.toml"),)


def test_a_title_that_is_not_utf8_is_refused(complain: Complain) -> None:
    (said,) = complain("title=caf\udce9")
    assert said.startswith("--set title: ")


def test_an_unending_file_is_left_after_its_first_bytes(tmp_path: Path) -> None:
    path = tmp_path / "case.toml"
    os.mkfifo(path)
    sent = 0

    def pour() -> None:
        nonlocal sent
        try:
            with path.open("wb", buffering=0) as pipe:
                while sent < UNENDING:
                    sent += pipe.write(b"# no end\n" * 1000)
        except BrokenPipeError:
            pass

    pouring = threading.Thread(target=pour, daemon=True)
    pouring.start()
    with pytest.raises(InputError):
        read_case(path)
    pouring.join(timeout=60)
    assert not pouring.is_alive()
    assert sent <= LARGEST + 1 + PIPE < UNENDING

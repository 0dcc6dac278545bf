"""Sentences with quantities: SI as data, the units of display in a report."""

import pickle

from crushleg.case.reader import read_case_text
from crushleg.case.templates import template
from crushleg.check import check_case
from crushleg.report.data import result
from crushleg.report.text import report_text
from crushleg.said import Quantity, Said, shown


def test_cautions_of_a_case_are_shown_in_us_units_and_stay_si_as_data() -> None:
    """1 in = 25.4 mm: H 38 mm is 1.5 in, the rows at 80, 210 and 340 mm are at 3.15, 8.27, 13.4."""
    checked = check_case(read_case_text(template("test-stage"), "stage"))
    us = report_text(checked, "us")
    assert "Hole edge nearer than H = 1.5 in to the corner, rows at 3.15 in, 8.27 in, 13.4 in" in us
    (si,) = [text for text in result(checked)["cautions"] if text.startswith("Hole edge nearer")]
    assert "H = 38 mm to the corner, rows at 80 mm, 210 mm, 340 mm" in si


def test_a_sentence_keeps_its_quantities_when_pickled_and_added_to() -> None:
    said = pickle.loads(pickle.dumps("a: " + Said("at ", Quantity(0.0254, "length")) + "."))
    assert said == "a: at 25.4 mm."
    assert shown(said, "us") == "a: at 1 in."

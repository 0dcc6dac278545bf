"""The pages of the test team's verbs; as :mod:`crushleg.report.page_verbs`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.check import check_case
from crushleg.report import correlate_text, inspect_text, predict_text
from crushleg.report import text as check_text
from crushleg.report.page import page_of
from crushleg.report.page_figures import drawings
from crushleg.report.page_verbs import governing_of, input_of, sources_of

if TYPE_CHECKING:
    from crushleg.report.correlate_text import Findings
    from crushleg.report.page import Page
    from crushleg.report.page_verbs import Kept
    from crushleg.trial.inspect import Inspection
    from crushleg.trial.predict import Prediction


def predict_page(prediction: Prediction, seal: str, kept: Kept) -> Page:
    """Page of ``predict``: the sheet with its verdict."""
    checked = prediction.checked
    return page_of(
        "predict",
        [*predict_text.render(prediction, seal, kept.units), *sources_of(checked)],
        inputs=kept.inputs,
        drawings=drawings(kept.figures),
        governing=governing_of(checked, kept.units, check_text.verdict(checked)),
        hashes=[*input_of(checked.case), ("prediction", seal)],
    )


def correlate_page(about: Findings, kept: Kept) -> Page:
    """Page of ``correlate``: records against the curve."""
    against = about.against
    held = [("compared with", against.sha256)] if against.sha256 else []
    return page_of(
        "correlate",
        [*correlate_text.render(about, kept.units), *sources_of(check_case(about.case))],
        inputs=kept.inputs,
        drawings=drawings(kept.figures),
        hashes=[*input_of(about.case), *held],
    )


def inspect_page(found: Inspection, kept: Kept) -> Page:
    """Page of ``inspect``: crushed legs."""
    return page_of(
        "inspect",
        [*inspect_text.render(found, kept.units), *sources_of(check_case(found.case))],
        inputs=kept.inputs,
        drawings=drawings(kept.figures),
        hashes=input_of(found.case),
    )

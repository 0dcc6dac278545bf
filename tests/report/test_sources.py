"""The sources of a case: those behind its numbers, and no others."""

from __future__ import annotations

import re

import pytest

from crushleg import check_case, read_case_text, template
from crushleg.report.sources import sources
from tests.report.cases import KINDS, checked, report

STATUS = (
    "published", "from memory", "derived", "common practice", "judgement", "given by the case",
    "your test",
)  # fmt: skip
SHAPE = 'girder.holes={law="even", first="80 mm", row_pitch="130 mm", rows=6, size="30 mm"'


def joined(*overrides: str) -> str:
    return "\n".join(sources(checked("test-stage", *overrides)))


@pytest.mark.parametrize("kind", KINDS)
def test_every_source_carries_its_status(kind: str) -> None:
    for text in sources(checked(kind)):
        status = re.findall(r"\[([^]]*)\]$", text)
        assert status, text
        assert any(word in status[0] for word in STATUS), text


def test_the_hole_law_is_called_derived_and_untested_only_where_there_are_holes() -> None:
    words = "not yet checked by any test of a drilled square column [derived]"
    assert words in joined()
    assert words not in joined('girder.holes={law="none"}')


def test_slots_and_staggered_rows_bring_their_own() -> None:
    assert "slots" not in joined(f"{SHAPE}}}")
    assert "slots" in joined(f'{SHAPE}, shape="slot", size_along="60 mm"}}')
    assert "Staggered" in joined(f'{SHAPE}, per_face=2, spacing="60 mm"}}')


def test_the_rate_pair_appears_when_the_rate_is_on() -> None:
    assert "Cowper" not in joined()
    assert "Cowper" in joined("girder.rate=true")
    assert "annealed, rate: " in joined("girder.rate=true")


def test_strength_with_temperature_appears_away_from_room_temperature() -> None:
    assert "strength_with_temperature" not in joined()
    assert "strength_with_temperature" in joined('girder.temperature="-40 degC"')


def test_a_certificate_replaces_the_datasheet() -> None:
    text = joined('girder.measured={yield_strength="301 MPa"}')
    assert "Measured or certified: yield_strength [given by the case]" in text
    assert "annealed, yield_strength: " not in text
    assert "annealed, ultimate_strength: " in text


def test_reserve_and_crest_ratio_say_where_they_come_from() -> None:
    assert "14 CFR 23.723" in joined()
    assert "14 CFR 23.723" not in "\n".join(sources(checked("coupon")))
    assert "measured plain tubes [from memory]" in joined()
    assert "[given by the case]" in joined("girder.crest_ratio=[1.1, 1.3, 1.6]")


def test_assumed_values_are_named_once_with_their_source() -> None:
    text = re.sub(r"(?m)^(wall|hole)_tolerance = .*$", "", template("coupon"))
    case = check_case(read_case_text(text))
    lines = report(case).splitlines()
    assert len(case.case.assumed) == 2
    for sentence in case.case.assumed:
        assert lines.count(f"- Assumed: {sentence}") == 1
    assert sum("Assumed: " in text for text in lines) == len(case.case.assumed)

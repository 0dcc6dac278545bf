"""The page a reviewer keeps: whole, safe, accessible, and the same every time."""

from __future__ import annotations

import hashlib
import re
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from crushleg import read_case
from crushleg.cautions import SCREENING
from crushleg.explain import explanation
from crushleg.report import page as parts
from crushleg.report.layout import Column, Heading, Items, Pairs, Paragraph, Table
from crushleg.report.page import page_of
from crushleg.report.page_blocks import KEY, blocks_html
from crushleg.report.page_html import page_html
from crushleg.report.page_inputs import CHANGES, GONE, MOST_LINES, case_inputs
from crushleg.report.page_links import HEADS, LABELS, OF_VERB, Links
from crushleg.report.page_style import CSS, LEAST_CONTRAST, ON
from crushleg.report.text import render
from tests.report.cases import HEAVY, checked
from tests.report.pages import EVIL, html, page, tree

KINDS = pytest.mark.parametrize("kind", ["test-stage", "lunar-lander", "coupon"])
ROOT = Path(__file__).parents[2]
COLOUR = re.compile(r"#[0-9a-f]{6}\b")


def drawn() -> str:
    return html("test-stage", drawn=True)


def luminance(colour: str) -> float:
    """Relative luminance; Web Content Accessibility Guidelines 2.2, W3C [published]."""
    share = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255.0
    linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    return float(linear @ [0.2126, 0.7152, 0.0722])


def contrast(one: str, other: str) -> float:
    """Contrast ratio; as :func:`luminance`."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_that_of_the_guidelines() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)  # [published] W3C, WCAG 2.2
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)  # widely tabled


def test_every_text_has_contrast_on_what_is_behind_it() -> None:
    assert [pair for pair in ON if contrast(*pair) < LEAST_CONTRAST] == []
    texts = set(re.findall(r"(?<![-\w])color:(#[0-9a-f]{6})", CSS))
    behind = set(re.findall(r"background:(#[0-9a-f]{6})", CSS))
    assert texts == {text for text, _ in ON}
    assert behind == {ground for _, ground in ON}


def test_the_page_needs_nothing_but_itself() -> None:
    found = tree(drawn())
    assert found.all("script", "link", "img", "iframe", "object") == []
    assert not re.search(r"@import|url\((?!#)", CSS)
    for one in found.elements:
        for name in ("href", "src", "xlink:href"):
            assert one.attributes.get(name, "#").startswith(("#", "data:")), one
        assert not any(name.startswith("on") for name in one.attributes)
    policy = [m for m in found.all("meta") if "http-equiv" in m.attributes]
    assert "default-src 'none'" in policy[0].attributes["content"]


@KINDS
def test_ids_are_unique_and_every_link_leads_somewhere(kind: str) -> None:
    found = tree(html(kind, drawn=True))
    ids = [one.attributes["id"] for one in found.elements if "id" in one.attributes]
    assert len(ids) == len(set(ids))
    links = [one.attributes["href"] for one in found.elements if "href" in one.attributes]
    links += [
        f"#{name}" for one in found.elements for name in re.findall(r"url\(#([^)]+)\)", str(one))
    ]
    assert links
    assert {link[1:] for link in links} <= set(ids)


@KINDS
def test_headings_go_down_one_at_a_time_and_parts_are_named(kind: str) -> None:
    found = tree(html(kind, drawn=True))
    levels = [int(one.tag[1]) for one in found.all("h1", "h2", "h3", "h4")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert found.all("html")[0].attributes["lang"] == "en"
    assert found.all("title")[0].text
    assert {one.attributes["scope"] for one in found.all("th")} == {"col", "row"}
    assert len(found.all("caption")) == len(found.all("table"))
    assert all(caption.text for caption in found.all("caption"))


def test_every_figure_has_words_for_those_who_do_not_see_it() -> None:
    found = tree(drawn())
    shown = found.all("svg")
    assert len(shown) == len(page("test-stage", drawn=True).drawings) == 4
    for one in shown:
        assert one.attributes["role"] == "img"
        assert len(one.attributes["aria-label"]) > 40
        assert "viewBox" in one.attributes or "viewbox" in one.attributes
    assert [c.text[:9] for c in found.all("figcaption")] == [f"Figure {i}." for i in range(1, 5)]
    assert found.all("style")[0].text == f"\n{CSS}"
    assert len(found.all("style")) == 1


@pytest.mark.parametrize("overrides", [(), (HEAVY,)])
def test_verdict_and_governing_margin_stand_before_all_else(overrides: tuple[str, ...]) -> None:
    found = tree(html("test-stage", *overrides))
    verdict = next(one for one in found.all("p") if "verdict" in one.attributes.get("class", ""))
    assert verdict.text.split()[0].rstrip(":") == ("FAILS" if overrides else "PASSES")
    assert "header" in verdict.within
    titles = [one.text for one in found.all("h2")]
    assert titles[0] == parts.GOVERNING
    assert titles[1].startswith("Margins")
    case = checked("test-stage", *overrides)
    name = case.margins[case.governs].check
    first = found.all("section")[0]
    assert f"How {name.replace('_', ' ')} is computed" in first.text
    assert "capability" in first.text


def test_nothing_of_the_report_is_lost_and_nothing_said_twice() -> None:
    case = checked("test-stage", HEAVY)
    shown = tree(html("test-stage", HEAVY)).all("body")[0].text
    flat = " ".join(shown.replace(KEY, "").split())
    for block in render(case):
        if isinstance(block, (Heading, Paragraph)):
            assert " ".join(block.text.replace("`", "").split()) in flat
        elif isinstance(block, Items):
            assert all(" ".join(item.replace("`", "").split()) in flat for item in block.items)
        elif isinstance(block, Pairs):
            assert all(" ".join(f"{label}{text}".split()) in flat for label, text in block.pairs)
        else:
            for row in block.rows:
                assert all(" ".join(cell.split()) in flat for cell in row)
    assert flat.count("margins are below zero") == 1


def test_the_governing_row_is_told_in_words() -> None:
    found = tree(html("test-stage"))
    rows = [one for one in found.all("tr") if one.attributes.get("class") == "key"]
    assert [row.text.strip().endswith("governs") for row in rows] == [True]
    table = Table((Column(("no.",)), Column(("mass",))), [("1", "2"), ("3", "4")], strong=1)
    said = tree(blocks_html([table], "Girders")).all("tr")
    assert [KEY in row.text for row in said] == [False, False, True]


def test_texts_are_escaped_wherever_they_come_from() -> None:
    shown = html("test-stage", EVIL, drawn=True)
    found = tree(shown)
    assert found.all("script", "i") == []
    assert [one for one in found.all("b") if "figcaption" not in one.within] == []
    assert '<script>alert(1)</script> & "quotes" <b>' in found.all("h1")[0].text
    assert "<i>as read</i>" in found.all("pre")[0].text
    assert "&lt;script&gt;" in shown


def test_control_characters_do_not_reach_the_page() -> None:
    said = blocks_html([Paragraph("a\x00b\x1b[31mc\u202ed")], "x")
    assert said == "<p>a b [31mc d</p>"


def test_the_same_page_has_the_same_bytes() -> None:
    case = checked("coupon")
    one, other = (page_html(page_of("check", render(case))) for _ in "12")
    assert one == other
    assert page_html(page("test-stage", drawn=True)) == drawn()


def test_versions_hash_screening_and_room_to_sign() -> None:
    found = tree(html("test-stage"))
    made = next(one for one in found.all("section") if one.text.strip().startswith(parts.MADE_WITH))
    assert checked("test-stage").case.input_sha256 in made.text
    for name in (*parts.LIBRARIES, "Python"):
        assert name in made.text
    assert SCREENING in found.all("footer")[0].text
    signed = next(one for one in found.all("section") if one.text.strip().startswith(parts.SIGNED))
    for word in (*parts.SIGN, *parts.SIGNED_BY):
        assert word in signed.text


def test_every_name_that_is_linked_is_explained_with_formula_and_source() -> None:
    found = tree(html("test-stage"))
    told = {
        one.attributes["id"].removeprefix("explain-"): one.text
        for one in found.all("div")
        if one.attributes.get("id", "").startswith("explain-")
    }
    assert tuple(told) == page("test-stage").explained
    assert {"leg_load", "mean_force", "margin", "collapse_sequence"} <= set(told)
    for name, text in told.items():
        assert explanation(name).equations[0].formula.split("\n")[0] in text
        assert "source" in text
    assert all("details" in one.within for one in found.all("div") if "id" in one.attributes)


def test_labels_stand_for_names_that_exist() -> None:
    known = [name for own in OF_VERB.values() for name in own.values() if name]
    for name in (*LABELS.values(), *HEADS.values(), *known):
        assert explanation(name).name == name
    assert Links("check").name("nothing of the kind") == ""
    assert Links("correlate").name("stroke mm") == ""


def test_inputs_are_shown_as_read_or_said_to_be_gone(tmp_path: Path) -> None:
    case, record = tmp_path / "case.toml", tmp_path / "record.csv"
    case.write_bytes((ROOT / "examples" / "dunlin.toml").read_bytes())
    record.write_text("1,2\n" * (MOST_LINES + 7), encoding="utf-8")
    change = 'girder.wall="3.5 mm"'
    digest = read_case(case, [change]).input_sha256
    found = case_inputs([case, record], [change], [digest])
    assert [one.name for one in found] == [case.name, record.name, CHANGES]
    assert found[0].text.split("\n") == case.read_text(encoding="utf-8").splitlines()
    assert found[1].sha256 == hashlib.sha256(record.read_bytes()).hexdigest()
    assert found[1].note.startswith(f"The first {MOST_LINES} lines; 7 more")
    assert found[2].text == change
    case.write_text("changed since", encoding="utf-8")
    assert case_inputs([case], [change], [digest])[0].note == GONE
    assert case_inputs([tmp_path / "none.toml", "/dev/stdin"])[1].note == GONE

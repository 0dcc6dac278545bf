"""The page of every verb in a real browser: quiet, within its window, drawn; printed uncut."""

from __future__ import annotations

import io
import re
import shutil
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PIL import Image

from crushleg import cli
from tests.browser import CHROMIUM, Browser, browser
from tests.test_html_verb import EXAMPLES, LONGER, QUICK

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

pytestmark = [
    pytest.mark.evidence,
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine"),
]
RUNS = {**{name: (name, *words) for name, words in QUICK.items()}, **LONGER}
EVERY = pytest.mark.parametrize("name", RUNS)
WIDTHS = (360, 1280)
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
INCH, DOT = 25.4, 96.0
SIDES = 24.0
"""Both side margins of the printed page [mm]."""

FIGURES = """[...document.querySelectorAll('figure svg')].map(svg => {
  const box = svg.getBBox(), seen = svg.getBoundingClientRect();
  return [box.width, box.height, seen.width, seen.height]})"""
BEYOND = """[...document.querySelectorAll('body *')].filter(one => {
  const box = one.getBoundingClientRect();
  return box.width && !one.closest('.wide') && !one.closest('.unseen') && !one.closest('svg')
    && (box.right > innerWidth + 1 || box.left < -1)}).map(one => one.outerHTML.slice(0, 80))"""
CUT = """[...document.querySelectorAll('table, pre, figure svg, dl, p')].filter(one => {
  const box = one.getBoundingClientRect();
  return box.width && box.right > innerWidth + 1}).map(one => one.outerHTML.slice(0, 80))"""


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder in which every verb has written its page."""
    folder = tmp_path_factory.mktemp("pages")
    for path in EXAMPLES.iterdir():
        if path.suffix in (".toml", ".csv"):
            shutil.copy(path, folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        for name, words in RUNS.items():
            code = cli.main([*words, "--html", f"{name}.html"])
            assert code in (cli.PASSED, cli.NEGATIVE), name
    return folder


@pytest.fixture(scope="module")
def tab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    with browser(tmp_path_factory.mktemp("profile")) as opened:
        yield opened


def test_trouble_would_be_seen(tab: Browser, tmp_path: Path) -> None:
    bad = tmp_path / "bad.html"
    wide = "<div style='width:3000px'>x</div><svg viewBox='0 0 1 1'></svg>"
    bad.write_text(f"<body>{wide}<img src='none.png'><script>throw 1</script>", encoding="utf-8")
    tab.open(bad, 360)
    assert tab.trouble
    assert len(tab.asked) > 1
    assert tab.tell("document.documentElement.scrollWidth") > 360
    assert tab.tell(BEYOND)


@EVERY
@pytest.mark.parametrize("width", WIDTHS)
def test_a_page_is_quiet_fits_its_window_and_shows_its_figures(
    name: str, width: int, pages: Path, tab: Browser
) -> None:
    file = pages / f"{name}.html"
    tab.open(file, width)
    assert tab.trouble == []
    assert tab.asked == [file.as_uri()]
    assert tab.tell("innerWidth") == width
    assert tab.tell("document.documentElement.scrollWidth") <= width
    assert tab.tell(BEYOND) == []
    shown = tab.tell(FIGURES)
    assert len(shown) == len(re.findall(r"<svg", file.read_text(encoding="utf-8")))
    assert all(min(sizes) > 50.0 for sizes in shown)
    picture = np.asarray(Image.open(io.BytesIO(tab.picture())).convert("L"))
    assert picture.shape[1] == width
    ink = (picture < 128).mean(axis=1)
    assert 0.01 < (picture < 250).mean() < 0.6
    assert (ink > 0.0).mean() > 0.3


@EVERY
@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_is_cut_in_print(name: str, paper: str, pages: Path, tab: Browser) -> None:
    across, up = PAPERS[paper]
    tab.open(pages / f"{name}.html", round((across - SIDES) / INCH * DOT))
    tab.call("Emulation.setEmulatedMedia", media="print")
    try:
        assert tab.tell(CUT) == []
        folded = "[...document.querySelectorAll('.input pre')].map(one => one.offsetHeight)"
        assert all(tall > 10 for tall in tab.tell(folded))
        pdf = tab.printed(across, up)
    finally:
        tab.call("Emulation.setEmulatedMedia", media="")
    boxes = set(re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf))
    assert len(boxes) == 1
    assert [float(x) for x in boxes.pop()] == pytest.approx(
        [across / INCH * 72.0, up / INCH * 72.0], abs=1.0
    )


def test_a_link_opens_the_explanation(pages: Path, tab: Browser) -> None:
    tab.open(pages / "check.html", 1280)
    shown = "document.querySelector('#explain-leg_load').checkVisibility()"
    assert tab.tell(shown) is False
    tab.tell("document.querySelector('a[href=\"#explain-leg_load\"]').click()")
    assert tab.tell(shown) is True
    assert tab.tell("document.querySelectorAll('details[open]').length") == 1

"""The evidence page: its pieces, that it shows what the tests check, and how a browser shows it.

The whole page takes seconds, most of them finite elements and motions in time: it is made under
the mark "evidence". Without it a page is made of a few values, and of hard ground alone.
"""

from __future__ import annotations

import importlib
import itertools
import math
import re
import subprocess
import sys
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from scipy.optimize import brentq

from tests import outside
from tests.browser import CHROMIUM, browser
from tests.outside import Outside

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.browser import Browser

EXAMPLES = Path(__file__).parents[1] / "examples"
SCRIPTS = ("blocks", "coupons", "laws", "lists", "page", "plan", "unvalidated", "values")
SLOW = ("motion_closed_forms", "landing_by_hand", "perforated_sheet_elements", "plate_buckling")
"""Modules whose values take seconds."""
PAPER = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN = 24.0
"""Left and right of the page on paper [mm]."""
PIXELS = 96.0 / 25.4
LEAST_CONTRAST = 4.5
CONTRAST = """
(() => {
  const channel = (v) => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  const numbers = (colour) => colour.match(/[\\d.]+/g).map(Number);
  const light = ([r, g, b]) =>
    0.2126 * channel(r / 255) + 0.7152 * channel(g / 255) + 0.0722 * channel(b / 255);
  const behind = (one) => {
    for (let at = one; at; at = at.parentElement) {
      const found = numbers(getComputedStyle(at).backgroundColor);
      if (found.length < 4 || found[3] > 0) return found;
    }
    return [255, 255, 255];
  };
  let least = 99, where = "";
  for (const one of document.querySelectorAll("body *:not(svg *)")) {
    if (![...one.childNodes].some((n) => n.nodeType === 3 && n.data.trim())) continue;
    const both = [light(numbers(getComputedStyle(one).color)), light(behind(one))].sort();
    const ratio = (Math.max(...both) + 0.05) / (Math.min(...both) + 0.05);
    if (ratio < least) { least = ratio; where = one.tagName + " " + one.className; }
  }
  return [least, where];
})()
"""
WIDEST = "[document.documentElement.scrollWidth, innerWidth]"
BEYOND = """
[...document.querySelectorAll("body *:not(svg *):not(.quiet):not(thead *):not(thead)")]
  .filter((one) => one.getBoundingClientRect().right > innerWidth + 0.5)
  .map((one) => one.tagName + " " + one.textContent.slice(0, 40))
"""
CUT = """
[...document.querySelectorAll("td, th")].filter((one) => one.scrollWidth > one.clientWidth + 1)
  .map((one) => one.textContent.slice(0, 40))
"""


def sample(ours: float = 2.0, **changes: Any) -> Outside:
    fields: dict[str, Any] = {
        "what": "a sample <value>",
        "theirs": 2.0,
        "ours": lambda: ours,
        "source": "A. Author & B. Author, Journal 1 (2000) 1",
        "place": "table 1",
        "status": "published",
        "why": "digits given",
        "relative": 0.01,
        "unit": "kN",
    }
    return Outside(**(fields | changes))


TUBES = tuple(
    sample(
        what=f"energy of a tube {ours:g}", ours=ours, status="simulation", unit="J", relative=0.5
    )
    for ours in (1.5, 1.8)
)


def files_of(evidence: SimpleNamespace, *values: Outside) -> list[Any]:
    """One module of values, beside which there are some simulated tubes."""
    found = tuple(map(evidence.values.shown, (*values, *TUBES)))
    return [evidence.values.File("published/test_samples.py", "Samples.", found)]


class Outline(HTMLParser):
    """Levels of headings in their order, every id, and tags that carry an address."""

    def __init__(self) -> None:
        super().__init__()
        self.levels: list[int] = []
        self.ids: list[str] = []
        self.addresses: list[str] = []
        self.drawn: list[dict[str, str | None]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        if re.fullmatch(r"h[1-6]", tag):
            self.levels.append(int(tag[1]))
        if tag == "svg":
            self.drawn.append(found)
        self.ids += [value for name, value in attrs if name == "id" and value]
        self.addresses += [
            value or "" for name, value in attrs if name in {"href", "src", "xlink:href"}
        ]


@pytest.fixture(scope="module")
def evidence() -> Iterator[SimpleNamespace]:
    sys.path.insert(0, str(EXAMPLES))
    scripts = {name: importlib.import_module(f"evidence_{name}") for name in SCRIPTS}
    yield SimpleNamespace(script=importlib.import_module("evidence"), **scripts)
    sys.path.remove(str(EXAMPLES))


@pytest.fixture(scope="module")
def quick(evidence: SimpleNamespace) -> Iterator[None]:
    """Without the motions on the ground, which take seconds."""
    with pytest.MonkeyPatch.context() as patch:
        ground = evidence.unvalidated.Doubt("Landing on real ground", "not here", ())
        patch.setattr(evidence.unvalidated, "ground", lambda: ground)
        yield


@pytest.fixture(scope="module")
def small(evidence: SimpleNamespace, quick: None) -> str:  # noqa: ARG001 - patched
    """Page of a few values, all else as it is."""
    return made(evidence)


def made(evidence: SimpleNamespace) -> str:
    values = sample(), sample(2.015, what="another")
    found: str = evidence.script.written(files_of(evidence, *values))
    return found


@pytest.fixture(scope="module")
def outline(small: str) -> Outline:
    found = Outline()
    found.feed(small)
    return found


def test_every_row_shows_the_value_that_its_test_checks(evidence: SimpleNamespace) -> None:
    """All modules that compute fast: ours, theirs, status, place, and whether it holds."""
    fast = [
        values
        for name, values in outside.collected()
        if Path(name).stem.removeprefix("test_") not in SLOW
    ]
    assert len(fast) > 20
    for value in itertools.chain.from_iterable(fast):
        one = evidence.values.shown(value)
        line = evidence.lists.line(one)
        assert line.cells[0].startswith(value.what)
        assert float(line.cells[1]) == pytest.approx(float(value.ours()), rel=1e-6, abs=1e-12)
        assert float(line.cells[2]) == pytest.approx(value.theirs, rel=1e-6)
        assert line.cells[5] == value.status
        assert line.small.startswith(value.place)
        near = 0.0 < value.allowed >= abs(one.ours - value.theirs)
        assert line.cells[6] == ("holds" if near else "FAILS")


def fails(value: Outside) -> bool:
    try:
        value.check()
    except AssertionError:
        return True
    return False


@pytest.mark.parametrize(
    ("value", "failing"),
    [
        (sample(2.019), False),
        (sample(2.021), True),
        (sample(1.979), True),
        (sample(math.nan), True),
        (sample(2.0, relative=0.0), True),
        (sample(2.09, absolute=0.1), False),
        (sample(2.11, absolute=0.1), True),
        (sample(0.0, theirs=0.0, absolute=0.1), False),
    ],
)
def test_a_value_fails_on_the_page_where_its_test_does(
    evidence: SimpleNamespace, value: Outside, failing: bool
) -> None:
    assert fails(value) is failing
    assert evidence.values.shown(value).fails is failing


def test_a_value_that_cannot_be_computed_fails_and_says_why(evidence: SimpleNamespace) -> None:
    def broken() -> float:
        return float(brentq(lambda x: x * x + 1.0, 0.0, 1.0))

    one = evidence.values.shown(replace(sample(), ours=broken))
    line = evidence.lists.line(one)
    assert one.fails
    assert line.cells[1] == "–"
    assert "f(a) and f(b) must have different signs" in line.small


def test_what_finite_elements_do_not_repeat_is_not_shown_but_judged(
    evidence: SimpleNamespace,
) -> None:
    one, again = (evidence.values.shown(sample(1.98765432 * x)) for x in (1.0, 1.0 + 1e-10))
    assert evidence.lists.line(one) == evidence.lists.line(again)
    assert one.ratio == again.ratio
    edge = evidence.values.shown(sample(2.0 + 2e-9, relative=5e-10))
    assert edge.rounded == 2.0
    assert edge.fails


def test_a_module_without_its_package_is_named_and_does_not_fail(
    evidence: SimpleNamespace, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As where scikit-fem is not installed: its module skips itself when it is imported."""
    name = "tests.published.test_plate_buckling"
    real = importlib.import_module

    def absent(wanted: str, package: str | None = None) -> ModuleType:
        if wanted == name and wanted not in sys.modules:
            pytest.skip("could not import 'skfem'", allow_module_level=True)
        return real(wanted, package)

    monkeypatch.delitem(sys.modules, name, raising=False)
    monkeypatch.setattr(importlib, "import_module", absent)
    monkeypatch.setattr(evidence.values, "shown", lambda value: sample_of(evidence, value))
    files = evidence.values.gathered()
    (missing,) = (file for file in files if file.missing)
    assert missing.name == "published/test_plate_buckling.py"
    assert missing.shown == ()
    assert missing.title.startswith("Elastic buckling of plates")
    assert name not in sys.modules
    said = " ".join(evidence.lists.values([missing]))
    assert "could not import 'skfem'" in unescape(said)
    whole = [*files_of(evidence, sample()), missing]
    assert "1 more files of values need a package" in evidence.blocks.worth(whole, [HOLES])


def sample_of(evidence: SimpleNamespace, value: Outside) -> Any:
    return evidence.values.Shown(value=value, ours=value.theirs)


HOLES = SimpleNamespace(
    moved=[
        SimpleNamespace(input="our law", stroke="+0.7"),
        SimpleNamespace(input="net area, 1 − d/C", stroke="+0.1"),
    ]
)


def test_the_first_paragraph_counts_and_names_the_farthest_ratio(evidence: SimpleNamespace) -> None:
    values = (
        sample(2.015, what="close one"),
        sample(what="recalled", status="from memory"),
        sample(2.5, what="far one", status="derived"),
    )
    said = evidence.blocks.worth(files_of(evidence, *values), [HOLES])
    assert said.startswith("5 values from outside")
    assert "1 published, 1 from memory, 1 derived" in said
    assert "2 from simulation. 4 of them lie within the tolerance beside each, 1 fails" in said
    assert "is 0.750 (energy of a tube 1.5; simulation)" in said
    assert "simulation set aside, 1.250 (far one; derived)" in said
    assert "+0.1 in place of +0.7" in said


def test_a_failing_value_is_shown_as_failing_and_the_script_exits_1(
    evidence: SimpleNamespace,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    out = tmp_path / "page.html"
    monkeypatch.setattr(evidence.script, "written", lambda files: small_page(evidence, files))
    monkeypatch.setattr(evidence.script, "gathered", lambda: files_of(evidence, sample(3.0)))
    assert evidence.script.main(["--out", str(out)]) == 1
    text = out.read_text(encoding="utf-8")
    assert (
        '<tr role="row" class="fails"><th scope="row" role="rowheader">a sample &lt;value' in text
    )
    assert ">FAILS</td>" in text
    assert "FAILS: a sample <value>" in capsys.readouterr().err
    monkeypatch.setattr(evidence.script, "gathered", lambda: files_of(evidence, sample()))
    assert evidence.script.main(["--out", str(out)]) == 0
    assert "FAILS" not in out.read_text(encoding="utf-8")


def small_page(evidence: SimpleNamespace, files: list[Any]) -> str:
    found: str = evidence.page.page("Values", evidence.lists.values(files))
    return found


def test_a_page_that_cannot_be_written_exits_2_and_says_where(
    evidence: SimpleNamespace,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(evidence.script, "written", lambda _: "")
    monkeypatch.setattr(evidence.script, "gathered", list)
    assert evidence.script.main(["--out", str(tmp_path / "no" / "page.html")]) == 2
    assert "a folder that is missing" in capsys.readouterr().err


def test_the_page_is_the_same_when_it_is_made_again(evidence: SimpleNamespace, small: str) -> None:
    assert made(evidence) == small


def test_the_page_stands_alone(small: str, outline: Outline) -> None:
    """No address but places of its own, the empty icon, and names of formats that none fetches."""
    assert all(a.startswith("#") or a == "data:," for a in outline.addresses)
    assert set(re.findall(r"https?://[^\s\"'<]+", small)) <= {
        "http://www.w3.org/2000/svg",
        "http://www.w3.org/1999/xlink",
    }
    assert "<script" not in small


def test_headings_come_in_order_ids_are_single_and_links_lead_somewhere(outline: Outline) -> None:
    assert outline.levels[0] == 1
    assert outline.levels.count(1) == 1
    assert max(np.diff(outline.levels)) == 1
    assert len(set(outline.ids)) == len(outline.ids)
    assert {a[1:] for a in outline.addresses if a.startswith("#")} <= set(outline.ids)


def test_every_figure_has_a_text_in_its_place(small: str, outline: Outline) -> None:
    assert len(outline.drawn) == 4
    for drawn in outline.drawn:
        assert drawn["role"] == "img"
        name = drawn["aria-labelledby"]
        assert re.search(rf'<title id="{name}">[^<]{{40,}}</title>', small)


def test_the_page_carries_the_caution_and_the_hash_of_its_inputs(
    evidence: SimpleNamespace, small: str
) -> None:
    assert small.count(evidence.blocks.SCREENING) == 2
    assert len(re.findall(r"SHA-256[^<]* [0-9a-f]{64}", small)) == 7


def test_net_area_is_one_less_d_over_c_of_the_nearest_row(evidence: SimpleNamespace) -> None:
    """Rows of 33, 31.2, … 24 mm, 45 mm apart from 30 mm on; C 57 mm: by hand at three heights."""
    case = evidence.coupons.crushleg.read_case(EXAMPLES / "coupon-evidence-d50.toml")
    girders = evidence.laws.girders_of(case)
    front = evidence.coupons.crushleg.check_case(case).crush.front
    found = evidence.laws.NET_AREA.ratio(girders, front)[0]
    for height, hole in ((0.010, 33.0), (0.090, 31.2), (0.280, 24.0)):
        cell = np.abs(front.z[0] - height).argmin()
        assert found[cell] == pytest.approx(1.0 - hole / 57.0, rel=1e-9)


def test_our_law_put_through_the_page_is_the_tools_own_curve(evidence: SimpleNamespace) -> None:
    case = evidence.coupons.crushleg.read_case(EXAMPLES / "coupon-evidence-d30.toml")
    checked = evidence.coupons.crushleg.check_case(case)
    found = evidence.laws.crushed(evidence.laws.girders_of(case), evidence.laws.OURS)
    assert np.array_equal(found.curve.energy, checked.crush.curve.energy)


def test_coupons_pass_their_check_and_fold_from_the_foot(evidence: SimpleNamespace) -> None:
    plain, *drilled = evidence.coupons.coupons()
    for coupon in (plain, *drilled):
        assert coupon.checked.passes
        assert coupon.crush.sequence.from_foot.all()
    assert plain.share == (0.0, 0.0, 0.0)
    assert [round(coupon.share[1], 2) for coupon in drilled] == [0.30, 0.50]


def test_laws_are_apart_by_the_scatter_of_two_means(evidence: SimpleNamespace) -> None:
    """σ² = σw² 2/n, σw 0.05: ln(0.8/0.4) is 9.803 σ of one test of each, twice that of four."""
    one, other = evidence.coupons.coupons()[:2]
    log = math.log(0.8), math.log(0.4)
    pair = evidence.coupons.Pair(one, other, evidence.laws.NET_AREA, *log)
    assert pair.sigmas(1, model=False) == pytest.approx(9.803, abs=5e-4)
    assert pair.sigmas(4, model=False) == pytest.approx(19.605, abs=5e-4)
    assert pair.sigmas(4, model=True) < pair.sigmas(4, model=False)


def test_repeats_that_halve_a_scatter_follow_the_closed_form(
    evidence: SimpleNamespace,
) -> None:
    """1/τn² = 1/0.09² + n/0.05²; τn ≤ 0.045 from n = 3 · 0.05²/0.09² = 0.93: one test.

    Next coupon: τn² + 0.05² ≤ (0.09² + 0.05²)/4 asks for τn² ≤ 0.00015, n = 16.4: 17 tests. A σ of
    0.075 or 0.099 never halves: 0.05 is left.
    """
    found = list(evidence.coupons.halvings(evidence.coupons.coupons()))
    assert [half.repeats for half in found] == [1, 17, None, None, None]


@pytest.mark.usefixtures("quick")
def test_net_area_in_place_of_our_law_lengthens_the_stroke(evidence: SimpleNamespace) -> None:
    hole, *rest = evidence.unvalidated.doubts((0.75, 0.9))
    margins = {row.input: float(row.stroke) for row in hole.moved}
    assert margins["net area, 1 − d/C"] < margins["our law"]
    assert margins["our law"] <= margins["our law without corner work"]
    assert len(rest) == 9


def run(out: Path) -> Path:
    """Run the script as a user does, in another folder."""
    done = subprocess.run(
        [sys.executable, str(EXAMPLES / "evidence.py"), "--out", str(out)],
        cwd=out.parent,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return out


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Page of all values."""
    return run(tmp_path_factory.mktemp("evidence") / "evidence.html")


@pytest.mark.evidence
def test_the_script_writes_all_values_and_the_same_page_again(whole: Path) -> None:
    text = whole.read_text(encoding="utf-8")
    count = sum(len(values) for _, values in outside.collected())
    assert len(re.findall(r">holds</td>", text)) == count
    assert f"{count} values from outside" in text
    assert run(whole.with_name("again.html")).read_bytes() == whole.read_bytes()


@pytest.fixture(scope="module")
def tab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    if CHROMIUM is None:
        pytest.skip("no chromium or chrome is installed")
    with browser(tmp_path_factory.mktemp("profile")) as found:
        yield found


@pytest.mark.evidence
@pytest.mark.parametrize("width", [360, 1280])
def test_the_page_fits_the_window_in_silence_and_fetches_nothing(
    whole: Path, tab: Browser, width: int
) -> None:
    tab.open(whole, width)
    scroll, inner = tab.tell(WIDEST)
    assert inner == width
    assert scroll <= width
    assert tab.tell(BEYOND) == []
    assert tab.trouble == []
    assert [address for address in tab.asked if not address.startswith("data:")] == [whole.as_uri()]


@pytest.mark.evidence
def test_all_text_of_the_page_stands_out_from_its_ground(whole: Path, tab: Browser) -> None:
    tab.open(whole, 1280)
    least, where = tab.tell(CONTRAST)
    assert least >= LEAST_CONTRAST, where


@pytest.mark.evidence
@pytest.mark.parametrize("paper", PAPER)
def test_the_page_prints_without_cut_tables(whole: Path, tab: Browser, paper: str) -> None:
    """Laid out in the print style at the width that the margins leave; then printed."""
    width, height = PAPER[paper]
    tab.call("Emulation.setEmulatedMedia", media="print")
    try:
        tab.open(whole, math.floor((width - MARGIN) * PIXELS))
        scroll, inner = tab.tell(WIDEST)
        assert scroll <= inner
        assert tab.tell(CUT) == []
        printed = tab.printed(width, height)
    finally:
        tab.call("Emulation.setEmulatedMedia", media="")
    assert printed.startswith(b"%PDF")
    assert 10 < len(re.findall(rb"/Type\s*/Page\b", printed)) < 80

"""Stock lists: what is in them, what [stock] changes, and which tool a hole gets."""

from __future__ import annotations

import pytest

from crushleg import read_case_text, template
from crushleg.design.stock import (
    GIVEN,
    Stock,
    Tool,
    holds,
    hole_tools,
    metal_of,
    sheet_list,
    sheets_in,
    stock_of,
    tool_for,
)
from crushleg.errors import InputError
from crushleg.units import parse

mm = 1e-3
STATUSES = {"published", "from memory", "derived", "common practice"}


def stock(*overrides: str) -> Stock:
    return stock_of(read_case_text(template("test-stage"), "stage", overrides))


def complaint(override: str) -> str:
    with pytest.raises(InputError) as caught:
        read_case_text(template("test-stage"), "stage", [override])
    return str(caught.value)


def tool(size: float, makes: str, over: float | None = 0.0) -> Tool:
    return Tool(
        name=makes, size=size, system="metric", makes=makes, source="x", status="y", over=over
    )


def test_every_tool_and_sheet_has_a_source_and_a_status() -> None:
    sheets = [one for metal in ("stainless", "steel", "aluminium") for one in sheet_list(metal)]
    said = [(tool.source, tool.status, tool.system) for tool in hole_tools()]
    said += [(sheet.source, sheet.status, sheet.system) for sheet in sheets]
    sources, statuses, systems = map(set, zip(*said, strict=True))
    assert len(said) > 400
    assert all(sources)
    assert statuses <= STATUSES
    assert systems == {"metric", "inch"}


def test_a_tool_has_the_size_in_its_name() -> None:
    for one in hole_tools():
        size, unit = one.name.removesuffix(f" {one.makes}").rsplit(" ", 1)
        assert one.size == parse(f"{size} {unit}", "length")


def test_no_tool_stands_twice() -> None:
    names = [one.name for one in hole_tools()]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("size", "over"), [(3.0, 0.14), (6.0, 0.18), (10.0, 0.22), (13.0, 0.27), (20.0, 0.33)]
)
def test_a_drilled_hole_is_wider_by_grade_h13(size: float, over: float) -> None:
    """ISO 286-1 IT13: public table, second-hand; up to 3 mm from memory."""
    drills = Stock(tools=tuple(t for t in hole_tools() if t.makes == "twist drill"), sheets=())
    drill = tool_for(drills, size * mm)
    assert drill is not None
    assert drill.over == pytest.approx(over * mm)


def test_a_metric_hole_saw_is_an_inch_saw_within_its_rounding() -> None:
    """A 60 mm saw is 2 3/8 in: names rounded to the millimetre, the saws made to 1/16 in."""
    saws = [one for one in hole_tools() if one.makes == "hole saw"]
    inch = [one.size for one in saws if one.system == "inch"]
    for one in saws:
        if one.system == "metric":
            assert min(abs(one.size - size) for size in inch) < 0.65 * mm


@pytest.mark.parametrize(
    ("material", "metal", "thinnest", "thickest"),
    [
        ("stainless-304l-annealed", "stainless", 0.5, 6.0),
        ("steel-s355", "steel", 0.5, 20.0),
        ("aluminium-6061-t4", "aluminium", 0.4064, 6.35),
    ],
)
def test_sheets_are_those_of_the_metal(
    material: str, metal: str, thinnest: float, thickest: float
) -> None:
    case = read_case_text(template("test-stage"), "stage", [f"girder.material={material}"])
    assert metal_of(case.girder.material) == metal
    found = sheets_in(stock_of(case))
    assert (found[0], found[-1]) == pytest.approx((thinnest * mm, thickest * mm))
    assert list(found) == sorted(set(found))


def test_titanium_has_no_built_in_sheets() -> None:
    assert stock("girder.material=titanium-6al-4v-annealed").sheets == ()


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_a_system_keeps_its_own_lists_and_what_is_listed(system: str) -> None:
    own = f'stock={{system="{system}", hole_tools=["61 mm", "2.4 in"], source="crib"}}'
    found = stock(own)
    assert [one.name for one in found.tools[:2]] == ["61 mm own tool", "2.4 in own tool"]
    assert {one.system for one in found.tools[2:]} == {system}


def test_only_replaces_the_list_that_is_given_and_keeps_the_other() -> None:
    found = stock('stock={only=true, sheets=["2.2 mm", "1/8 in", "2.2 mm"], source="crib"}')
    assert sheets_in(found) == (2.2 * mm, 0.003175)
    assert {sheet.status for sheet in found.sheets} == {GIVEN}
    assert len(found.tools) == len(hole_tools())


@pytest.mark.parametrize("text", ["16", '"16 ga"', '"16 gauge"', '"16"', '"No. 16"', '"#16"'])
def test_a_gauge_number_is_refused_with_the_reason(text: str) -> None:
    said = complaint(f'stock={{sheets=[{text}], source="crib"}}')
    assert "sheets.0" in said
    assert "a gauge number is no thickness" in said
    assert "aluminium" in said


@pytest.mark.parametrize("text", ["#7", "F", "No. 30", "letter Q"])
def test_a_drill_number_or_letter_is_refused_with_the_reason(text: str) -> None:
    assert "drill numbers and letters" in complaint(
        f'stock={{hole_tools=["{text}"], source="crib"}}'
    )


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("only=true", "an empty stock"),
        ("only=true, hole_tools=[]", "an empty stock"),
        ('only=true, sheets=[], hole_tools=["60 mm"], source="crib"', "sheets: read an empty list"),
        ('hole_tools=["60 mm"]', "without source"),
        ('hole_tools="60 mm", source="crib"', "a list of lengths"),
        ('sheets=["2 kg"], source="crib"', "a mass"),
        ('sheets=[1.5], source="crib"', "a number without a unit"),
        ('sheets=["0 mm"], source="crib"', "at least 0.001 mm"),
        ('system="imperial"', '"metric" or "inch" or "both"'),
    ],
)
def test_a_stock_that_does_not_do_is_refused(table: str, said: str) -> None:
    assert said in complaint(f"stock={{{table}}}")


def test_a_hole_gets_the_tool_of_its_size_before_a_nearer_preference() -> None:
    tools = Stock(tools=(tool(10.1 * mm, "a"), tool(10 * mm, "b")), sheets=())
    found = tool_for(tools, 10 * mm, 0.2 * mm)
    assert found is not None
    assert found.makes == "b"


def test_of_tools_of_one_size_the_first_that_holds_the_tolerance_is_taken() -> None:
    tools = Stock(tools=(tool(0.01, "a", 1 * mm), tool(0.01, "b", 0.1 * mm)), sheets=())
    found = [tool_for(tools, 0.01, width * mm) for width in (0.05, 0.2, 2.0)]
    assert [one.makes for one in found if one] == ["a", "b", "a"]


def test_without_a_tolerance_only_the_size_itself_does() -> None:
    tools = Stock(tools=(tool(10 * mm, "a"),), sheets=())
    assert tool_for(tools, 10.0005 * mm) is not None
    assert tool_for(tools, 10.01 * mm) is None
    assert tool_for(tools, 10.01 * mm, 0.02 * mm) is not None


def test_a_tool_holds_when_the_widest_hole_is_inside_the_tolerance() -> None:
    assert holds(tool(0.01, "a", 0.2 * mm), 0.01, 0.2 * mm)
    assert not holds(tool(0.01, "a", 0.21 * mm), 0.01, 0.2 * mm)
    assert not holds(tool(0.01, "a", None), 0.01, 0.2 * mm)
    assert not holds(tool(0.0097, "a", 0.4 * mm), 0.01, 0.2 * mm)

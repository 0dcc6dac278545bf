"""Read [scatter] against the case it stands in: inputs in SI, correlations between them."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from crushleg.case.fields import Spec, specs
from crushleg.case.scatter_keys import MODEL, ULTIMATE, YIELD, Known, Unknown, known_key
from crushleg.case.scatter_needs import judge_parameters
from crushleg.case.scatter_records import (
    BATCH,
    DISTRIBUTIONS,
    ITS_KEYS,
    LEG,
    LIST,
    LIST_OF_ITS_KEYS,
    SAMPLES,
    Scatter,
    ScatterCorrelation,
    ScatterInput,
)
from crushleg.case.scatter_rules import judge_correlations, judge_input, judge_reach
from crushleg.case.scatter_samples import read_column
from crushleg.case.tables import (
    Draft,
    Unread,
    build,
    keyed_fields,
    read_fields,
    read_list,
    subtable,
    subtables,
)
from crushleg.case.values import describe

if TYPE_CHECKING:
    from pathlib import Path as FilePath

    from crushleg.case.drafts import Drafts
    from crushleg.case.lines import Path
    from crushleg.case.sheet import Sheet

HERE = "scatter"
SHARE = Spec(kind="number", says="probability", at_least=0.0, at_most=1.0)
INPUT_DEFAULTS: dict[str, Any] = {
    key: item.default
    for key, item in keyed_fields(ScatterInput)
    if item.default is None or isinstance(item.default, str)
}


def read_scatter(
    data: dict[str, Any], drafts: Drafts, base_dir: FilePath, sheet: Sheet
) -> Scatter | None:
    """Read and judge [scatter] of a case.

    Parameters
    ----------
    data : dict
        Tables of the case.
    drafts : Drafts
        Of the case, read and judged.
    base_dir : path
        Where CSV files of samples lie.
    sheet : Sheet
        Receives the problems.

    Returns
    -------
    Scatter or None
        None without the table, or where it has a problem.
    """
    table = subtable(data, HERE, (), sheet)
    if table is None:
        return None
    sound = not sheet.problems
    own = {"samples", "seed", "method", "defaults"}
    defaults = {key: item.default for key, item in keyed_fields(Scatter) if key in own}
    head = read_fields(specs(Scatter), table, (HERE,), sheet, ("input", "correlation"), defaults)
    read = [
        _input(one, i, data, drafts, base_dir, sheet)
        for i, one in enumerate(subtables(table, "input", (HERE,), sheet))
    ]
    inputs = [one for one in read if one is not None]
    _each_part_once(read, sheet)
    pairs = [
        _pair(one, i, data, drafts, sheet)
        for i, one in enumerate(subtables(table, "correlation", (HERE,), sheet))
    ]
    correlations = [pair for pair in pairs if pair is not None]
    if len(correlations) == len(pairs) and len(inputs) == len(read) and "defaults" in head:
        judge_correlations(inputs, correlations, sheet, listed_only=not head["defaults"])
    if sound and not sheet.problems:
        judge_reach(list(enumerate(inputs)), data, base_dir, drafts, sheet)
    if sheet.problems:
        return None
    pattern = data["girder"].get("holes", {})
    more = {"inputs": tuple(inputs), "correlations": tuple(correlations), "pattern": pattern}
    return build(Scatter, head, **more)


def _input(
    table: dict[str, Any],
    i: int,
    data: dict[str, Any],
    drafts: Drafts,
    base_dir: FilePath,
    sheet: Sheet,
) -> ScatterInput | None:
    """One [[scatter.input]]; None where it has a problem."""
    path: Path = (HERE, "input", i)
    before = len(sheet.problems)
    known = _known(table.get("key"), (*path, "key"), data, drafts, sheet)
    if known is None:
        if "key" not in table:
            sheet.report((*path, "key"), "nothing (key of the case)", 'key = "girder.wall"')
        return None
    draft = _fields(table, known, path, sheet)
    with suppress(Unread):
        if table.get("part") == LEG and not known.key.startswith(("girder.", MODEL)):
            read = f'"{LEG}" of {known.key}, which no leg has for itself'
            sheet.report((*path, "part"), read, 'part = "batch"')
        if draft["distribution"] is None:
            return _by_default(draft, known, path, sheet)
        judge_parameters(draft, known, path, sheet)
        if len(sheet.problems) > before:
            return None
        made = build(ScatterInput, draft, **_of(known))
        if made.distribution == SAMPLES:
            made = replace(made, drawn=read_column(made, path, base_dir, sheet))
        judge_input(made, known.spec, path, sheet)
        return made if len(sheet.problems) == before else None
    return None


def _of(known: Known) -> dict[str, Any]:
    return {
        "key": known.key,
        "path": known.path,
        "kind": known.spec.kind,
        "centre": known.centre,
    }


def _by_default(draft: Draft, known: Known, path: Path, sheet: Sheet) -> ScatterInput | None:
    """Input that takes the default distribution of its key: filled in where the case is whole."""
    stray = draft.given - {"key", "part", "source"}
    if stray:
        write = f"distribution = one of {', '.join(DISTRIBUTIONS)}"
        sheet.report((*path, "distribution"), f"nothing, beside {min(stray)}", write)
        return None
    filled = {name: draft[name] for name in ("part", "source")}
    return ScatterInput(**filled, **_of(known))


def _known(
    key: Any, path: Path, data: dict[str, Any], drafts: Drafts, sheet: Sheet
) -> Known | None:
    """Key of an input or correlation; None where it cannot scatter."""
    if key is None:
        return None
    if not isinstance(key, str):
        sheet.report(path, describe(key), 'a key in quotes, such as "girder.wall"')
        return None
    try:
        return known_key(key.strip(), data, drafts)
    except Unknown as unknown:
        sheet.report(path, unknown.read, unknown.write, unknown.hint)
    except Unread:
        sheet.report(path, f"{key}, which has a problem of its own", "that one first")
    return None


def _fields(table: dict[str, Any], known: Known, path: Path, sheet: Sheet) -> Draft:
    """Values of an input, those of its key's kind in SI."""
    free = replace(known.spec, says="", above=-1e300, below=1e300, at_least=-1e300, at_most=1e300)
    items, lists = [], []
    for key, spec, _ in specs(ScatterInput):
        if spec.kind in (LIST, LIST_OF_ITS_KEYS):
            lists.append((key, SHARE if spec.kind == LIST else known.spec))
        else:
            items.append((key, replace(free, says=spec.says) if spec.kind == ITS_KEYS else spec, 0))
    given = table | {"key": known.key}
    plain = [(key, spec, bool(required)) for key, spec, required in items]
    draft = read_fields(plain, given, path, sheet, [key for key, _ in lists], INPUT_DEFAULTS)
    for key, spec in lists:
        _listed(table, key, spec, draft, sheet)
    if known.spec.kind == "temperature" and str(table.get("deviation", "K"))[-1:] != "K":
        sheet.report((*path, "deviation"), describe(table["deviation"]), 'a difference in "K"')
    return draft


def _listed(table: dict[str, Any], key: str, spec: Spec, draft: Draft, sheet: Sheet) -> None:
    draft[key] = None
    if key not in table:
        return
    path = (*draft.path, key)
    if not isinstance(table[key], list):
        sheet.report(path, describe(table[key]), "a list")
        return
    try:
        draft[key] = tuple(read_list(table[key], spec, path, sheet))
    except Unread:
        del draft[key]
        draft.unread.add(key)


def _pair(
    table: dict[str, Any], i: int, data: dict[str, Any], drafts: Drafts, sheet: Sheet
) -> ScatterCorrelation | None:
    """One [[scatter.correlation]]; None where it has a problem."""
    path: Path = (HERE, "correlation", i)
    before = len(sheet.problems)
    items = [item for item in specs(ScatterCorrelation) if item[0] != "inputs"]
    draft = read_fields(items, table, path, sheet, ["inputs"], {"part": BATCH})
    keys = table.get("inputs")
    if not isinstance(keys, list) or len(keys) != 2:
        read = "nothing (two keys that scatter)" if keys is None else describe(keys)
        sheet.report((*path, "inputs"), read, f'inputs = ["{YIELD}", "{ULTIMATE}"]')
        return None
    found = [_known(key, (*path, "inputs", k), data, drafts, sheet) for k, key in enumerate(keys)]
    names = [one.key for one in found if one is not None]
    if len(names) == 2 and names[0] == names[1]:
        sheet.report((*path, "inputs", 1), f'"{names[0]}" twice', "two inputs")
    if len(sheet.problems) > before:
        return None
    return ScatterCorrelation(inputs=(names[0], names[1]), **draft)


def _each_part_once(inputs: list[ScatterInput | None], sheet: Sheet) -> None:
    """Refuse the same part of the same key twice."""
    seen: set[tuple[Path, str]] = set()
    for i, one in enumerate(inputs):
        if one is None:
            continue
        if (one.path, one.part) in seen:
            read = f'"{one.key}" twice, part "{one.part}"'
            write = 'one of them; or one with part = "batch" and one with part = "leg"'
            sheet.report((HERE, "input", i, "key"), read, write)
        seen.add((one.path, one.part))

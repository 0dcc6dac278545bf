"""Rules of [scatter]: distributions that are ones, and that stay where the case is a case."""

from __future__ import annotations

import itertools
import math
from copy import deepcopy
from typing import TYPE_CHECKING, Any

from crushleg.case.drafting import read_drafts
from crushleg.case.overrides import apply_overrides
from crushleg.case.rules import judge
from crushleg.case.scatter_keys import HOLE_SIZE, MODEL, OWN, si_text
from crushleg.case.scatter_records import LIMITS, LOGNORMAL, NORMAL, TABLE, TRIANGULAR
from crushleg.case.scatter_span import deviation, middle, share_kept, span
from crushleg.case.sheet import Sheet, dotted
from crushleg.case.values import bounds
from crushleg.units import show

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path as FilePath

    from crushleg.case.drafts import Drafts
    from crushleg.case.fields import Spec
    from crushleg.case.lines import Path
    from crushleg.case.scatter_records import ScatterCorrelation, ScatterInput

LEAST_KEPT = 0.01
ONE = 1e-6
"""Probabilities sum to 1 within this."""
NARROWER = 'a narrower distribution, or a cut with "low" and "high"'


def judge_input(of: ScatterInput, spec: Spec, path: Path, sheet: Sheet) -> None:
    """Report an input that is no distribution, or that leaves the bounds of its field."""
    before = len(sheet.problems)
    _ascending(of, path, sheet)
    _spreads(of, path, sheet)
    if of.distribution == TABLE:
        _table(of, path, sheet)
    if len(sheet.problems) > before:
        return
    if share_kept(of) < LEAST_KEPT:
        read = f"cuts that leave {100 * share_kept(of):.2g} % of the distribution"
        sheet.report((*path, "low" if of.low is not None else "high"), read, "wider cuts")
        return
    for word, value in zip(("low", "high"), span(of), strict=True):
        if not spec.admits(value):
            read = f"{of.key} that can reach {show(value, of.kind, digits=4)}"
            write = f"{bounds(spec)}: {_narrower(of)}"
            sheet.report(path, read, write, _cut(word, spec, of))
            return


def _spreads(of: ScatterInput, path: Path, sheet: Sheet) -> None:
    """Report a deviation that is not positive, and the logarithm of what is not."""
    if of.distribution == NORMAL and not deviation(of) > 0.0:
        key = "deviation" if of.deviation is not None else "cov"
        read = f"a standard deviation of {show(deviation(of), of.kind, digits=6)}"
        sheet.report((*path, key), read, "more than 0")
    for name in {LOGNORMAL: ("median",), LIMITS: ("low",)}.get(of.distribution or "", ()):
        value = middle(of, name)
        if not value > 0.0:
            read = show(value, of.kind)
            sheet.report((*path, name), read, "more than 0, for its logarithm")


def _narrower(of: ScatterInput) -> str:
    """Say how to keep an input within bounds; low and high of LIMITS are limits, no cuts."""
    return "a narrower distribution, or a triangular one" if of.distribution == LIMITS else NARROWER


def _cut(word: str, spec: Spec, of: ScatterInput) -> str:
    bound = spec.at_least if word == "low" else spec.at_most
    if not math.isfinite(bound) or of.distribution == LIMITS:
        return ""
    text = show(bound, of.kind)
    return f"such as {word} = {text}" if of.kind == "number" else f'such as {word} = "{text}"'


def _ascending(of: ScatterInput, path: Path, sheet: Sheet) -> None:
    """Low, middle and high in this order, and cuts that leave something."""
    names = ["low", "high"]
    if of.distribution in (TRIANGULAR, LIMITS):
        names.insert(1, "mode" if of.distribution == TRIANGULAR else "median")
    values = [middle(of, n) if n not in ("low", "high") else getattr(of, n) for n in names]
    there = [(n, v) for n, v in zip(names, values, strict=True) if v is not None]
    for (one, less), (other, more) in itertools.pairwise(there):
        ends = {one, other} == {"low", "high"}
        if less > more or (ends and less == more):
            read = f"{other} {show(more, of.kind)} under {one} {show(less, of.kind)}"
            sheet.report((*path, other), read, f"{' ≤ '.join(names)}, apart from each other")
            return
    if len(there) == 3 and there[0][1] == there[2][1]:
        sheet.report((*path, "high"), "high equal to low", "limits that are apart")


def _table(of: ScatterInput, path: Path, sheet: Sheet) -> None:
    """Values ascend; probabilities sum to 1; a cumulative curve goes from 0 to 1."""
    values = of.values or ()
    name = "probabilities" if of.probabilities is not None else "cumulative"
    shares = of.probabilities if of.probabilities is not None else of.cumulative or ()
    if len(values) < 2 or any(b <= a for a, b in itertools.pairwise(values)):
        sheet.report((*path, "values"), "values that do not ascend", "two or more, ascending")
    elif len(shares) != len(values):
        read = f"{len(shares)} for {len(values)} values"
        sheet.report((*path, name), read, "as many as values")
    elif name == "probabilities" and abs(sum(shares) - 1.0) > ONE:
        read = f"probabilities that sum to {sum(shares):.6g}"
        sheet.report((*path, name), read, "probabilities that sum to 1")
    elif name == "cumulative" and (
        shares[0] != 0.0 or shares[-1] != 1.0 or any(b < a for a, b in itertools.pairwise(shares))
    ):
        read = "a cumulative curve that does not rise from 0 to 1"
        sheet.report((*path, name), read, "0 at the first value, 1 at the last, never falling")


def judge_correlations(
    inputs: Sequence[ScatterInput],
    pairs: Sequence[ScatterCorrelation],
    sheet: Sheet,
    *,
    listed_only: bool,
) -> None:
    """Report correlations of what does not scatter, said twice, or that cannot be together."""
    seen: set[tuple[frozenset[str], str]] = set()
    for i, pair in enumerate(pairs):
        path = ("scatter", "correlation", i)
        for k, key in enumerate(pair.inputs):
            listed = any(one.key == key and one.part == pair.part for one in inputs)
            if not listed and (listed_only or pair.part == "leg"):
                read = f'"{key}", which has no [[scatter.input]] of part "{pair.part}"'
                sheet.report((*path, "inputs", k), read, "two inputs that scatter")
        if (frozenset(pair.inputs), pair.part) in seen:
            sheet.report((*path, "inputs"), "a pair that stands above already", "it once")
        seen.add((frozenset(pair.inputs), pair.part))
    for part in {pair.part for pair in pairs}:
        if cholesky(correlation_rows(pairs, part)[1]) is None:
            last = max(i for i, pair in enumerate(pairs) if pair.part == part)
            read = f"{pairs[last].value:g}: all correlations together are not positive definite"
            write = "correlations that can be true together; one left out is 0"
            sheet.report(("scatter", "correlation", last, "value"), read, write)


def correlation_rows(
    pairs: Sequence[ScatterCorrelation], part: str
) -> tuple[list[str], list[list[float]]]:
    """Keys that are correlated in one part, and their matrix."""
    chosen = [pair for pair in pairs if pair.part == part]
    keys = list(dict.fromkeys(key for pair in chosen for key in pair.inputs))
    rows = [[float(a == b) for b in keys] for a in keys]
    for pair in chosen:
        a, b = (keys.index(key) for key in pair.inputs)
        rows[a][b] = rows[b][a] = pair.value
    return keys, rows


def cholesky(rows: list[list[float]]) -> list[list[float]] | None:
    """Lower factor L of a matrix, L Lᵀ = R; None where it is not positive definite.

    >>> cholesky([[1.0, 0.6], [0.6, 1.0]])
    [[1.0, 0.0], [0.6, 0.8]]
    """
    n = len(rows)
    low = [[0.0] * n for _ in range(n)]
    for i in range(n):
        for j in range(i + 1):
            rest = rows[i][j] - sum(low[i][k] * low[j][k] for k in range(j))
            if i != j:
                low[i][j] = rest / low[j][j]
            elif rest <= 1e-10:
                return None
            else:
                low[i][i] = math.sqrt(rest)
    return low


def judge_reach(
    inputs: Sequence[tuple[int, ScatterInput]],
    data: dict[str, Any],
    base_dir: FilePath,
    drafts: Drafts,
    sheet: Sheet,
) -> None:
    """Report an input at whose least or most value the case breaks a rule between fields."""
    for i, one in inputs:
        if one.distribution is None:
            continue
        for value in _ends([other for _, other in inputs if other.path == one.path]):
            wrong = _breaks(one, value, data, base_dir, drafts)
            if wrong is not None:
                read = f"{one.key} that can reach {show(value, one.kind, digits=4)}{wrong[0]}"
                write = f"{wrong[1]}: {_narrower(one)}" if wrong[1] else _narrower(one)
                sheet.report(("scatter", "input", i), read, write)
                break


def _breaks(
    one: ScatterInput, value: float, data: dict[str, Any], base_dir: FilePath, drafts: Drafts
) -> tuple[str, str] | None:
    """Say where the case breaks a rule with an input at a value, and what to write; else None."""
    if one.key in OWN and one.key != HOLE_SIZE:
        spec = OWN[one.key]
        return None if spec.admits(value) else ("", bounds(spec))
    inner = Sheet(file="")
    judge(read_drafts(_changed(data, one, value, drafts), base_dir, inner), inner)
    if not inner.problems:
        return None
    first = inner.problems[0]
    return f", where {first.field} is {first.read}", first.write


def _ends(parts: Sequence[ScatterInput]) -> tuple[float, float]:
    """Least and most value of a key: of its one part, or of two together, as they are drawn."""
    lows, highs = zip(*(span(part) for part in parts if part.distribution), strict=True)
    centre, more = parts[0].centre or 0.0, len(lows) - 1
    if parts[0].key == MODEL:
        return math.prod(lows) / centre**more, math.prod(highs) / centre**more
    return sum(lows) - more * centre, sum(highs) - more * centre


def _changed(
    data: dict[str, Any], one: ScatterInput, value: float, drafts: Drafts
) -> dict[str, Any]:
    """Tables of the case with one input at another value."""
    changed = deepcopy(data)
    if one.key == HOLE_SIZE:
        rows = [row_table(placed.row, value) for placed in drafts.drilled()]
        changed["girder"]["holes"] = {"row": rows}
    else:
        apply_overrides(changed, [f"{dotted(one.path)}={si_text(value, one.kind)}"])
    return changed


def row_table(row: Any, larger: float = 0.0) -> dict[str, Any]:
    """[[girder.holes.row]] of a row whose holes are that much larger [m]."""
    table: dict[str, Any] = {"height": f"{row.height!r} m", "size": f"{row.size + larger!r} m"}
    if row.size_along is not None:
        table["size_along"] = f"{row.size_along + larger!r} m"
    return table | {
        "shape": row.shape,
        "per_face": row.per_face,
        "spacing": f"{row.spacing!r} m",
        "offset": f"{row.offset!r} m",
        "faces": row.faces,
    }

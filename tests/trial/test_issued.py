"""The seal of an issued prediction."""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg import InputError, cli
from crushleg.case.templates import template
from crushleg.trial.issued import seal, unsealed

if TYPE_CHECKING:
    from pathlib import Path

VALUES: st.SearchStrategy[Any] = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)
CONTENT = st.dictionaries(st.text().filter(lambda key: key != "sha256"), VALUES, max_size=5)


def test_the_hash_is_that_of_the_canonical_json() -> None:
    """Keys sorted, no spaces, UTF-8: written out here by hand."""
    text = '{"a":[1,2.5,null],"title":"Füße"}'
    issued = seal({"title": "Füße", "a": [1, 2.5, None]})
    assert list(issued) == ["title", "a", "sha256"]
    assert issued["sha256"] == hashlib.sha256(text.encode()).hexdigest()


@given(CONTENT)
def test_what_went_through_a_file_is_what_was_sealed(content: dict[str, Any]) -> None:
    back = json.loads(json.dumps(seal(content), indent=1, ensure_ascii=False))
    assert unsealed(back) == content


@pytest.mark.parametrize(
    "change",
    [{"title": "other"}, {"more": 1}, {"sha256": "0" * 64}, {"a": [1, 2.5000001]}],
)
def test_any_change_is_told(change: dict[str, Any]) -> None:
    issued = seal({"title": "drop", "a": [1, 2.5]})
    with pytest.raises(InputError, match="not the hash of what it holds"):
        unsealed(issued | change)


@pytest.mark.parametrize("other", [{}, {"title": "drop"}, {"sha256": 5}, [], None, "text"])
def test_what_was_never_issued_is_told(other: object) -> None:
    with pytest.raises(InputError, match="no hash; write a file that `crushleg predict --json`"):
        unsealed(other)


def test_an_issued_prediction_is_never_replaced_by_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    case, issued = tmp_path / "drop.toml", tmp_path / "issued.json"
    case.write_text(template("coupon"), encoding="utf-8")
    words = ["predict", str(case), "--quiet", "--no-plots", "--json", str(issued)]
    assert cli.main([*words, "--date", "2026-11-25"]) == cli.PASSED
    first = issued.read_bytes()
    assert cli.main([*words, "--date", "2026-11-25"]) == cli.PASSED
    assert cli.main([*words, "--date", "2026-11-26"]) == cli.INPUT
    assert issued.read_bytes() == first
    assert "issued earlier" in capsys.readouterr().err

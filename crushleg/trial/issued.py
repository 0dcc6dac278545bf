"""The seal of a prediction: a hash of everything in it, so that nobody changes it afterwards."""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING, Any

from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from pathlib import Path

SCHEMA = "crushleg-prediction-1"
SEAL = "sha256"


def digest_of(content: dict[str, Any]) -> str:
    """Hex SHA-256 of the canonical JSON of a dict: keys sorted, no spaces, UTF-8.

    >>> digest_of({"b": 1, "a": "é"}) == digest_of({"a": "é", "b": 1})
    True
    """
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def seal(content: dict[str, Any]) -> dict[str, Any]:
    """Add the hash of everything else as the last field.

    Parameters
    ----------
    content : dict
        Ready for JSON, without the field "sha256".

    Returns
    -------
    dict
        A new one.

    Examples
    --------
    >>> list(seal({"title": "drop 1"}))
    ['title', 'sha256']
    """
    return {**content, SEAL: digest_of(content)}


def unsealed(issued: Any) -> dict[str, Any]:
    """Check the hash of an issued prediction and return what it seals.

    Parameters
    ----------
    issued : object
        As read from JSON.

    Returns
    -------
    dict
        Without the hash.

    Raises
    ------
    InputError
        It has no hash, or was changed after it was issued.

    Examples
    --------
    >>> unsealed(seal({"title": "drop 1"}))
    {'title': 'drop 1'}
    >>> unsealed(seal({"title": "drop 1"}) | {"title": "drop 2"})
    Traceback (most recent call last):
    crushleg.errors.InputError: sha256: read not the hash of what it holds; write the file as issued
    """
    if not isinstance(issued, dict) or not isinstance(issued.get(SEAL), str):
        write = "a file that `crushleg predict --json` wrote"
        raise InputError([Problem(field=SEAL, read="no hash", write=write)])
    content = {key: value for key, value in issued.items() if key != SEAL}
    if digest_of(content) != issued[SEAL]:
        read = "not the hash of what it holds"
        write = "the file as issued"
        raise InputError([Problem(field=SEAL, read=read, write=write)])
    return content


def seal_of(path: Path) -> str | None:
    """Seal of the prediction in a file; None if there is no file, or another one."""
    if not path.is_file():
        return None
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return None
    issued = isinstance(found, dict) and found.get("schema") == SCHEMA
    return found.get(SEAL) if issued else None

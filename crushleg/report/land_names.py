"""Names of landings as parts of file names."""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

LONGEST = 40
"""Characters of a landing's name in the name of a file."""


def file_names(names: Sequence[str]) -> list[str]:
    """Names of landings as parts of file names, no two alike.

    >>> file_names(["Nominal", "drift, 5°", "drift 5°", "着陸"])
    ['nominal', 'drift-5', 'drift-5-2', 'landing']
    """
    found: list[str] = []
    for name in names:
        plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
        short = re.sub("[^a-z0-9]+", "-", plain.lower()).strip("-")[:LONGEST].strip("-")
        short = short or "landing"
        unique, count = short, 1
        while unique in found:
            count += 1
            unique = f"{short}-{count}"
        found.append(unique)
    return found

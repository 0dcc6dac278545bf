"""What the numbers are worth: every outside value beside ours, doubts, and the test to settle them.

Run: python examples/evidence.py [--out FILE]

Writes one page, evidence.html, that needs no network; exits 1 if a value does not hold. The values
are those that the tests check, so it needs the folder tests/ beside this one, and pytest.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

try:
    import pytest  # noqa: F401 - the values stand in tests
except ModuleNotFoundError:
    sys.stderr.write('pytest is not installed; write: pip install -e ".[test]"\n')
    sys.exit(2)

from evidence_blocks import TITLE, blocks  # noqa: E402 - tests/ has to be found first
from evidence_page import page  # noqa: E402
from evidence_values import File, gathered  # noqa: E402

from crushleg.errors import InputError  # noqa: E402
from crushleg.report.files import write_text  # noqa: E402
from crushleg.report.problems import told  # noqa: E402


def written(files: list[File]) -> str:
    """Page of these values."""
    return page(TITLE, blocks(files))


def main(words: list[str] | None = None) -> int:
    """Write the page; 1 if a value fails, 2 if the page cannot be written."""
    options = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    options.add_argument(
        "--out", type=Path, default=Path("evidence.html"), metavar="FILE", help="page to write"
    )
    out = options.parse_args(words).out
    files = gathered()
    try:
        write_text(out, written(files))
    except InputError as error:
        print(told(error), file=sys.stderr)
        return 2
    every = [one for file in files for one in file.shown]
    failing = [one for one in every if one.fails]
    for one in failing:
        print(f"FAILS: {one.value.what}", file=sys.stderr)
    for file in files:
        if file.missing:
            print(f"not computed: {file.name}: {file.missing}", file=sys.stderr)
    print(f"{out}: {len(every)} values from outside, {len(failing)} do not hold")
    return 1 if failing else 0


if __name__ == "__main__":
    sys.exit(main())

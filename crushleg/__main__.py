"""``python -m crushleg``."""

from __future__ import annotations

import sys


def run() -> None:
    """Run the command line and leave with its exit code."""
    from crushleg.cli import main  # noqa: PLC0415 - help must import argparse only

    sys.exit(main())


if __name__ == "__main__":
    run()

"""Shell completion, as the package shtab makes it from the parser, in a real bash."""

from __future__ import annotations

import shutil
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from pathlib import Path

ASK = """
source ./script
COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMPREPLY=()
_shtab_crushleg
echo "${COMPREPLY[@]}"
"""


@pytest.mark.evidence
@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash on this machine")
@pytest.mark.parametrize(
    ("words", "offered"),
    [
        (["ch"], "check"),
        (["check", "--un"], "--units"),
        (["check", "--units", ""], "si us"),
        (["check", "st"], "stage.toml"),
        (["check", "--json", "st"], "stage.toml"),
        (["check", "--out", ""], "plots"),
        (["correlate", "stage.toml", "re"], "record.csv"),
    ],
)
def test_bash_completes(tmp_path: Path, words: list[str], offered: str) -> None:
    pytest.importorskip("shtab")
    make = [sys.executable, "-m", "shtab", "--shell=bash", "--prog=crushleg", "crushleg.cli.parser"]
    script = subprocess.run(make, check=True, capture_output=True, text=True).stdout
    (tmp_path / "script").write_text(script, encoding="utf-8")
    for name in ("stage.toml", "record.csv"):
        (tmp_path / name).touch()
    (tmp_path / "plots").mkdir()
    ask = ["bash", "-c", ASK, "bash", "crushleg", *words]
    told = subprocess.run(ask, check=True, capture_output=True, text=True, cwd=tmp_path)
    assert told.stdout.split() == offered.split()

"""The wheel, installed in a fresh environment, finds its datasheets and templates."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.mark.evidence
def test_wheel_installed_in_a_fresh_environment_checks_a_template(tmp_path: Path) -> None:
    def run(*words: str | Path) -> str:
        done = subprocess.run(
            [str(word) for word in words], cwd=tmp_path, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    run(sys.executable, "-m", "build", "--wheel", "--outdir", tmp_path / "dist", ROOT)
    wheel = next((tmp_path / "dist").glob("*.whl"))
    datasheets = {
        Path(name).stem for name in zipfile.ZipFile(wheel).namelist() if "materials/" in name
    }
    assert datasheets == {datasheet.stem for datasheet in (ROOT / "materials").glob("*.toml")}
    run(sys.executable, "-m", "venv", tmp_path / "venv")
    python = tmp_path / "venv" / "bin" / "python"
    run(python, "-m", "pip", "install", "--quiet", wheel)
    command = tmp_path / "venv" / "bin" / "crushleg"
    run(command, "begin", "coupon", "--out", tmp_path / "coupon.toml")
    assert "coupon" in run(command, "check", tmp_path / "coupon.toml")
    assert "stainless-304l-annealed" in run(command, "materials")

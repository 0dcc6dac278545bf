"""Commented cases to begin with; their texts are the files in ``sample_cases/``."""

from __future__ import annotations

from importlib import resources

from crushleg.case.tables import did_you_mean
from crushleg.errors import InputError, Problem

KINDS = ("test-stage", "lunar-lander", "coupon")


def template(kind: str) -> str:
    """Text of a commented case: "test-stage", "lunar-lander" or "coupon".

    Raises
    ------
    InputError
        Unknown kind.
    """
    if kind not in KINDS:
        write = "one of: " + ", ".join(KINDS)
        hint = did_you_mean(kind, KINDS)
        raise InputError([Problem(read=f'"{kind}", which is no template', write=write, hint=hint)])
    folder = resources.files("crushleg.case") / "sample_cases"
    return (folder / f"{kind}.toml").read_text(encoding="utf-8")

"""Crushable landing legs: force against stroke, energy, margins of drilled box girders.

>>> import crushleg
>>> case = crushleg.read_case_text(crushleg.template("coupon"))
>>> crushleg.check_case(case).passes
True
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from crushleg.case.reader import read_case, read_case_text
    from crushleg.case.shelf import datasheet_names, find_material
    from crushleg.case.templates import template
    from crushleg.check import Checked, check_case
    from crushleg.errors import InputError

__all__ = [
    "Checked",
    "InputError",
    "check_case",
    "datasheet_names",
    "find_material",
    "read_case",
    "read_case_text",
    "template",
]

_ROOMS = {
    "Checked": "check",
    "InputError": "errors",
    "datasheet_names": "case.shelf",
    "check_case": "check",
    "find_material": "case.shelf",
    "read_case": "case.reader",
    "read_case_text": "case.reader",
    "template": "case.templates",
}


def __getattr__(name: str) -> object:
    """Import a public name from its room when it is first asked for."""
    if name not in _ROOMS:
        message = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(message)
    from importlib import import_module  # noqa: PLC0415 - help must stay instant

    value = getattr(import_module(f"crushleg.{_ROOMS[name]}"), name)
    globals()[name] = value
    return value

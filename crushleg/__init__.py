"""Crushable landing legs: force against stroke, energy, margins of drilled box girders.

>>> import crushleg
>>> case = crushleg.read_case_text(crushleg.starter("coupon"))
>>> crushleg.check(case).passes
True
"""

from crushleg.case.reader import read_case, read_case_text
from crushleg.case.shelf import card_names, find_material
from crushleg.case.starters import starter
from crushleg.check import Checked, check
from crushleg.errors import InputError

__all__ = [
    "Checked",
    "InputError",
    "card_names",
    "check",
    "find_material",
    "read_case",
    "read_case_text",
    "starter",
]

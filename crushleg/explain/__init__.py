"""How a margin or quantity is computed, told from the docstrings of the functions that do it.

Nothing is computed or imported here: docstrings are read from the source files. The names, and the
functions behind each, are in :mod:`crushleg.explain.names`.
"""

from __future__ import annotations

from crushleg.explain.explanation import Equation, Explanation, explanation, names

__all__ = ["Equation", "Explanation", "explanation", "names"]

"""Hole schemes: compare, size, drill."""

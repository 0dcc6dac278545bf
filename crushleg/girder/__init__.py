"""STROKE → FORCE: section, holes, buckling, folding, curve. Equations on plain arrays."""

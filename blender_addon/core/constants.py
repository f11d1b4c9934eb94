"""Constants and tolerances, each with its unit, source and reason. Materials are in ``catalog``."""

GRAVITY_M_S2 = 9.80665
"""Standard gravity, ISO 80000-3 (3rd CGPM, 1901)."""

MM_PER_INCH = 25.4
"""NIST SP 811, appendix B."""

GROUND_MM = 1e-6
"""Lengths below this are zero: a float32 STL of a 300 mm piece resolves 3e-5 mm."""

TALLEST_MASTER_MM = 3000.0
"""No poured block is taller; beyond it the unit was mistaken. Common practice, no source."""

SMALLEST_MASTER_MM = 2.0
"""No piece to be poured is smaller; below it the unit was mistaken. Common practice, no source."""

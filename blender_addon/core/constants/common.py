"""What every stage may use: units, nature's constants, and the smallest that counts."""

GRAVITY_M_S2 = 9.80665
"""Standard gravity, ISO 80000-3 (3rd CGPM, 1901)."""

G_PER_KG = 1000.0
"""Kilogram and gram, ISO 80000-4."""

MM_PER_INCH = 25.4
"""NIST SP 811, appendix B."""

UNITS_MM = {"millimeters": 1.0, "centimeters": 10.0, "inches": MM_PER_INCH, "meters": 1000.0}
"""Units that a scan may be in, by what one is in mm: NIST SP 811, appendix B."""

KPA_PER_PSI = 6.894757
"""NIST SP 811, appendix B."""

KPA_PER_INHG = 3.386389
"""Inch of mercury at 0 °C: NIST SP 811, appendix B."""

GROUND_MM = 1e-6
"""Lengths below this are zero: a float32 STL of a 300 mm piece resolves 3e-5 mm."""

ROUND_SEGMENTS = 256
"""Sides of a printed round: flats touch the true circle, the bore holds 0.005 % too much. Ours."""

ATMOSPHERE_PA = 101325.0
"""Standard atmosphere, 10th CGPM, 1954."""

ATMOSPHERE_KPA = ATMOSPHERE_PA / 1000.0
"""The same on a gauge."""

SMALLEST_ML = 1e-9
"""Volumes below this are zero: a cube of a micrometre. Ours."""

MOST_STRETCH_TOLD = 10.0
"""Stretch past which digits say nothing: no rubber for molds bears it. Common practice, no source.
"""

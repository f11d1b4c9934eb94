"""Limits and units of files that are read."""

from .common import MM_PER_INCH

LARGEST_FILE_BYTES = 2_000_000_000
"""A binary STL of 40 million triangles; beyond it a workshop's computer runs out of memory.
Ours."""

FARTHEST_COORDINATE = 1e12
"""In the file's own unit: a kilometre in nanometres. Beyond it squares and cubes lose all digits.
Ours."""

MOST_INSTANCES = 10_000
"""Copies of objects one 3MF may place: a full build plate has hundreds. Ours, against nested
floods."""

MM_PER_FILE_UNIT = {
    "micron": 0.001,
    "millimeter": 1.0,
    "centimeter": 10.0,
    "inch": MM_PER_INCH,
    "foot": 12.0 * MM_PER_INCH,
    "meter": 1000.0,
}
"""The units a 3MF may be in: 3MF Core 1.4.0, section 3.4; the foot after NIST SP 811, appendix
B."""

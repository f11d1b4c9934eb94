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

LARGEST_FILE_BYTES = 2_000_000_000
"""A binary STL of 40 million triangles; beyond it a workshop's computer runs out of memory. Ours."""

FARTHEST_COORDINATE = 1e12
"""In the file's own unit: a kilometre in nanometres. Beyond it squares and cubes lose all digits. Ours."""

MOST_INSTANCES = 10_000
"""Copies of objects one 3MF may place: a full build plate has hundreds. Ours, against nested floods."""

MM_PER_FILE_UNIT = {
    "micron": 0.001,
    "millimeter": 1.0,
    "centimeter": 10.0,
    "inch": MM_PER_INCH,
    "foot": 12.0 * MM_PER_INCH,
    "meter": 1000.0,
}
"""The units a 3MF may be in: 3MF Core 1.4.0, section 3.4; the foot after NIST SP 811, appendix B."""

LEAST_POCKET_ML = 0.01
"""Smaller pockets are not listed one by one: a bead 2.7 mm across. Common practice, no source."""

CONE_FROM_UPRIGHT_DEG = 40.0
"""Walls of the funnel's cone: printers lay 45 degrees without supports; 5 in hand. Common practice, no source."""

LEAST_THROAT_MM = 4.0
"""A narrower throat passes 0.02 ml/s of rubber of 20 Pa s: the flow of a dripping tap. Ours."""

THROAT_DIP_MM = 15.0
"""How far the throat reaches below the rim at most: enough to lead the stream, short enough to flow. Ours."""

FUNNEL_SEAT_MM = 2.0
"""Thickness of the funnel's saddle where it rests on the rim, at the throat. Common practice, no source."""

HOOK_ROOM_MM = 8.0
"""From the outside of the case to the outside of the funnel's hook, fit clearance included. Ours."""

HOOK_DROP_MM = 14.0
"""How far the hook reaches down the outside of the case, so that a full bowl does not tip it. Ours."""

HOOK_SHARE = 0.6
"""Half the hook's breadth by the bowl's outer radius: wide enough not to turn, still under the bowl. Ours."""

BOWL_STRAIGHT_SHARE = 0.5
"""Height of the bowl's straight wall by its radius: a bowl that is no wider than it must be. Ours."""

HOLD_FACTOR = 2.0
"""What must hold is built for twice the computed pull. Common practice, no source."""

POT_LIFE_TIGHT_SHARE = 0.5
"""Mixing and pouring within half the pot life is easy; beyond it the rubber thickens. Common practice, no source."""

POT_LIFE_LATEST_SHARE = 0.8
"""Beyond this share of the pot life rubber must no longer be poured. Common practice, no source."""

ROUND_SEGMENTS = 256
"""Sides of a printed round: its flats touch the true circle, its bore holds 0.005 % too much. Ours."""

FOOT_RIM_MM = 5.0
"""Height of the rim on the board that the case's foot stands in. Common practice, no source."""

FOOT_RIM_WIDE_MM = 4.0
"""Thickness of that rim. Common practice, no source."""

SEAM_WAX_MM = 2.0
"""Bevel inside that rim: the trough for a bead of wax round the foot. Common practice, no source."""

BOARD_MARGIN_MM = 12.0
"""Board left outside the rim, to hold and to clamp. Common practice, no source."""

FLANGE_FOOT_MM = 6.5
"""Where the flanges begin: over the board's rim, with room for a finger of wax. Ours."""

WASHER_BY_BOLT = 2.25
"""Outside of a plain washer by the thread: ISO 7089 has 9 mm for M4, 24 mm for M12. From memory."""

SLIVER_MM = 1e-4
"""A triangle lower than this has no side: float32 resolves 3e-5 mm at 500 mm. Ours."""

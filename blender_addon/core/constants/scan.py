"""Of scans and their clean-up."""

TALLEST_MASTER_MM = 3000.0
"""No poured block is taller; beyond it the unit was mistaken. Common practice, no source."""

SMALLEST_MASTER_MM = 2.0
"""No piece to be poured is smaller; below it the unit was mistaken. Common practice, no source."""

DOUBTED_MASTER_MM = 20.0
"""A piece smaller than this may be a scan in another unit: one is asked, not refused. Ours."""

LEAST_SCALE, MOST_SCALE = 1e-6, 1e6
"""Of a scan's numbers to millimetres: micrometres in a scene of metres, and back. Ours."""

FINE_TRIANGLES = 2_000_000
"""From here on a layout takes minutes: of a piece of 150 mm, triangles of a fifth of a millimetre,
finer than rubber is poured and parts are printed. Ours."""

BASE_ROUGHNESS = 0.005
"""How far from its plane a scanned base may lie, as a share of the piece's diagonal. Our choice."""

FLAT_BASE_SHARE = 0.01
"""Less of the surface than this lying in one plane of the hull is no base: a ball has 0.0087."""

PREFER_GIVEN_UP = 0.25
"""A base under the scan's own +z is taken unless another flat place is this many times wider
(1 / 0.25): a cap with a flat top on a narrow foot stands on the foot. Ours."""

LEAST_FOOT_MM2 = 1.0
"""Smaller islands of the foot get no riser: a printer cannot make them. Common practice, no
source."""

WELL_CLOSED_SHARE = 0.1
"""A patch wider than this share of the piece is a guess about its shape; say so. Our choice."""

MOST_HOLES_TOLD = 3
"""Of more such patches the widest are told one by one, the rest by number. Ours."""

WIDE_RIM_SHARE = 0.3
"""An opening this wide, as a share of the plan's diagonal, may be the one it stood on. Ours."""

RAGGED_RIM_SHARE = 0.05
"""How far the rim of a wide base may run up, as a share of the height; and how far the middle of an
opening may lie over the plane that it stood on, as a share of the diagonal. Ours."""

EVEN_RIM_SHARE = 0.005
"""How far that of a small foot may: hardly at all, or a hole above it would grow a leg. Ours."""

MOST_ACROSS_PATCH = 120.0
"""Edges across a patch at the most: on a very fine rim it is no finer than can be seen. Ours."""

LONG_IN_PATCH_SHARE = 2.0
"""A patch whose edges are all shorter than this many of its rim's is left as it is: a torn triangle
or two. Ours."""

FAR_FROM_FLAT_SHARE = 0.5
"""A patch that would bulge by more than this share of its width is left flat: a half ball. Ours."""

UNITED_SHARE = 1e-9
"""Pieces of whose surface less than this vanishes when they are joined are apart: rounding in
double precision, times a million triangles. Ours."""

LEAST_JOINED_SHARE = 0.5
"""With less of the surface left when loose bits are dropped, it is no surface at all. Ours."""

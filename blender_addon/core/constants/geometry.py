"""Tolerances of shared geometry."""

SKIN_MM = 1e-3
"""Thickness of a surface of which nothing else is known: it parts air and holds nothing. Ours."""

PLANE_OFFSET_SHARE = 1e-6
"""How far beside a ledge to measure, by the height: above the 6e-8 of float32, below any effect.
Ours."""

NEAREST_SAMPLES = 3
"""Nearest points of a sampled surface whose triangles are measured: the corner's own, as a rule.
Ours."""

CRISP_COSINE = 0.5
"""Faces that turn by more than 60 degrees are an edge of the piece; noise turns
less. Ours."""

MOST_SMOOTHING = 60
"""Steps of smoothing at the most: on a finer scan the radius shrinks instead of the time growing.
Ours."""

LONG_EDGE_SHARE = 4.0 / 3.0
"""An edge this many times too long is split: its halves are then nearer to what is wanted. Botsch,
Kobbelt: A remeshing approach to multiresolution modeling, 2004."""

SPLIT_ROUNDS, FLIP_ROUNDS = 80, 30
"""Rounds of splitting, and of flipping in each, at the most: a patch a hundred edges across takes
half as many. Ours."""

FAIR_ROUNDS = 4
"""Times that a patch is made smooth on the shape it had before: the next changes nothing seen.
Ours."""

FAIR_HOLD_SHARE = 1e-12
"""Of the stiffest vertex: what nothing holds, as in a patch without extent, stays there. Ours."""

FLATTEST_COTANGENT = 50.0
"""Of the angles of a triangle, about one degree: slivers of a scan must not outweigh the rest.
Ours."""

SHORT_SIDE_MM = 0.02
"""Sides of a convex outline that are shorter are left out: 4 micrometres at most are lost at a
corner, and a side without length has no direction. Ours."""

CELL_ROUNDS = 12
"""Cells that are tried for a lighter mesh: the number of triangles falls with their square, so the
second or third is right as a rule. Ours."""

ENOUGH_SHARE, AIM_SHARE = 0.75, 0.9
"""Of the triangles that are wanted at the most: enough to stop at, and what the next cell aims at.
Ours."""

FACES_PER_CELL = 3.0
"""Triangles of a lighter mesh for each square of a cell's side: a level or upright plane has 2, a
slanting one up to 4. The first guess only."""

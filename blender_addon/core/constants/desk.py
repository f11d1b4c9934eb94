"""How much of a fine scan is shown: numbers are found on all of it in any case."""

MOST_FACES_AS_GIVEN = 250_000
"""Triangles of a master up to which it is shown as it is. Without a graphics card a redraw of
master and map takes 0.25 s of processor time for each million triangles. Ours, measured."""

MOST_FACES_SHOWN = 200_000
"""Triangles of the lighter mesh that is shown of a finer one: an edge is then a hundredth of the
piece or less, finer than a brush. Ours."""

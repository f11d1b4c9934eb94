"""Of trapped air, brushing and leaning."""

STILL_OPEN_FACTOR = 2.0
"""What trapped air may still change, by how much it changed when the pitch was halved last: error
falls with the pitch, but where columns fall is chance as well. Ours."""

LEAST_BOUND_SHARE = 0.002
"""No total is told closer than this: two pitches may agree by chance. Ours."""

LEAST_POCKET_ML = 0.01
"""Smaller pockets are not listed one by one: a bead 2.7 mm across. Common practice, no source."""

MUCH_TO_BRUSH_SHARE = 0.5
"""With more of the surface than this to brush, another way of standing is worth a look. Ours."""

MOST_BODIES = 20
"""Pockets whose air is made a body, the largest: more than anybody brushes one by one. Ours."""

BODY_STRAY_SHARE = 0.1
"""A cut that holds this much more or less than its columns is not that pocket's air. Ours."""

BODY_AGREES_SHARE = 0.02
"""A body's own volume is told when it is this near to that of the columns. Ours."""

BODY_NEAR_SHARE = 0.05
"""How near the ends of a column must lie to a body's surface, by the pitch: rounding only. Ours."""

BLOCK_OVERLAP_SHARE = 1e-3
"""How far blocks of cells overlap, by their size: no cells that touch in a line only. Ours."""

MOST_LAYERS = 30
"""Layers that such blocks are built of, at most: seconds of work, and fine enough to see. Ours."""

BRUSH_CELLS = 6.0
"""Cells across the brush in the search for narrow places: its error is a sixth of the brush."""

LARGEST_GRID_CELLS = 6e6
"""Largest grid of cells: its distance transforms take about 0.3 GB."""

CREEP_ROUNDS = 4
"""Faces that free air is followed over from where a column meets it, before all ways are looked at:
on a dense scan a column meets one face in five. Ours."""

CREEP_COLUMNS = 10
"""How far from held air narrow ways out are looked for, in columns. Ours."""

CREEP_LEAST_ML = 0.001
"""Less held air is not followed: a bead 1.2 mm across. Ours."""

NARROW_WORTH_ML = 0.1
"""Air behind a narrow way is worth a word from here on: a bead 6 mm across. Ours."""

NARROW_WORTH_SHARE = 0.05
"""And it must be this share of what is held there: the rest is how a lip falls on columns. Ours."""

FEWEST_COLUMNS = 300.0
"""Columns across the largest size: half a millimetre on a piece of 150 mm."""

LEAN_COLUMNS = 100.0
"""Columns across the largest size in the search for a lean; the best is computed again, finely."""

LEAN_STEPS_DEG = 12.0
"""Steps of the lean that is tried: a wedge is cut no finer. Ours."""

HOUR_DEG = 30.0
"""Of the clock, by which a direction is told at the bench."""

LEAN_AROUND_DEG = HOUR_DEG
"""Steps of the direction of a lean: no more than a clock has hours. Ours."""

STILL_TRAPPED_SHARE = 0.1
"""A pocket of whose faces less than this still stands in trapped air counts as freed. Ours."""

LEAST_LEAN_ML = 0.05
"""With less trapped air than this nobody leans the case. Common practice, no source."""

LEAST_LEAN_GAIN = 0.1
"""A lean that frees less than this share of the trapped air is not worth the wedge under the
case."""

"""Of resin: shell, fills, heat."""

FILL_STEP_MM = 5.0
"""Heights between two lines of the fill table: what can be read off a ruler in the mold. Ours."""

FILL_THICK_MM = {
    "fast polyurethane": 25.0,
    "slow polyurethane": 50.0,
    "epoxy": 10.0,
    "polyester": 10.0,
}
"""No thicker at a time, by class of resin: as a layer in a wide mold. Common practice, no source;
the data sheet first: for epoxy its largest pour, polyester thin or filled only."""

MOST_LEVELS = 60
"""Levels at which the width of the hollow is measured, at most: 5 mm apart up to 300 mm. Ours."""

LEVEL_OUTLINE_MM = 0.05
"""Bends of a level section below this are left out, and how far from its ends one is cut. Ours."""

WIDTH_CELLS = 1000.0
"""Cells that a piece of such a section is cut into: a bar comes out 0 to 6 % too wide. Ours."""

WIDTH_ROUNDS = 12
"""Rounds of inverse iteration: a bar is then within 0.1 % of what they converge to. Ours."""

LASTING_HEAT_C = 40.0
"""A fill cools below this before the next is poured on it. Common practice, no source."""

RESIN_DIFFUSIVITY_MM2_S = 0.101
"""0.2 W/(m K) by 1100 kg/m3 and 1800 J/(kg K), cured resin, from memory: heat leaves a layer in
about its thickness squared by this."""

SANDING_MM = 3.0
"""Of the riser, what is kept for sanding beside what shrinks. Common practice, no source."""

SHELL_CELLS = (88, 62)
"""Cells across the largest size on two grids whose error, a square of the pitch, then cancels.
Ours."""

SHELL_TURN_DEG = (31.0, 23.0, 37.0)
"""The grids are turned so about z, y, x: walls and floors along them would not let it cancel.
Ours."""

RIM_REACH_SHARE = 0.05
"""How far the piece goes on below the rim for the grid, by its size: four cells at the least.
Ours."""

OVERLAP_SHARE = 0.005
"""A surface that crosses itself is told of when this share of the copy is counted wrong: a scale's
error. Ours."""

SHELL_BAND_CELLS = 2.8
"""Cells about the shell's inside where distance is exact: a cell's diagonal and the raster's
error. Ours."""

SHELL_KNOTS = 8
"""Steps up to the set shell, and again beyond it, in the table of other shells: with a smooth
curve between them, a coat in a ball of five shells' radius is off by less than 0.3 %. Ours."""

SHELL_ERROR_SHARE = 1e-3
"""A cavity below this share of the copy is nothing but the grid's error. Ours."""

FILL_TIP_SHARE = 0.005
"""Of a cavity, what lies in its deepest tip and makes no fill deeper: a scale's error. Ours."""

FINE_STEP_MM = 1.0
"""Heights between which fills are shared out: a ruler's step. Ours."""

HOLLOW_LEAST_ML = 1.0
"""Less than this left hollow behind a narrow place is not told of. Common practice, no source."""

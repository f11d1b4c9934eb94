"""Of cases, the channel and the back."""

HEAVIEST_RUBBER_KG_M3 = 1400.0
"""For the wall of a printed case, which is chosen before the rubber: filled rubber is no heavier,
1350 at the most in the usual classes. Common practice, no source."""

WALL_STEP_MM = 0.1
"""Walls are made thicker in such steps. Ours."""

PRINTED_STRESS_MPA = 5.0
"""Tension that a printed flange is trusted with across its layers, a quarter of the 20 MPa and more
that usual plastics hold there. Common practice, no source."""

CELLS_IN_CHANNEL = 8.0
"""Cells across the least channel that tell the plan's outside from its inside. Ours."""

FEWEST_PLAN_CELLS, MOST_PLAN_CELLS = 160.0, 640.0
"""Cells across the plan: bays are found in any, and a big piece takes no longer than a second.
Ours."""

MOST_BAYS = 8
"""Bays of the plan that are looked at for a channel; the widest count. Ours."""

AXIS_STEPS = 360
"""Points on the edge of where the axis may pass, to start from; the result is made exact. Ours."""

BACK_STEP_DEG = 1.0
"""Steps of the back's direction, to start from; the result is made exact. Ours."""

SPOTS = 180
"""Places round the master that a printed case's channel is tried at: 2 degrees apart. Ours."""

SPOT_SLACK_MM = 0.05
"""How near to the master it is slid: points of its rim are told apart no finer. Ours."""

LIKELY_SPOTS = 12
"""How many of the outlines that hold least are looked at for rubber at the cut. Ours."""

PRINTED_WIDENINGS = 8
"""How often a printed case's channel is widened by a tenth until the cut has its rubber: to twice
its width. Ours."""

OVAL_SPOTS = 4
"""Of these, those that an oval is drawn round exactly, by a quick guess of its area. Ours."""

CONTOUR_STEPS = 360
"""Directions in which an outline's area is estimated: a degree each. Ours."""

STREAM_SIDES = 64
"""Sides of the stream that is shown: it looks round. Ours."""

WORTH_MM = 0.05
"""A channel wider by less than this is not looked for: no maker can measure it. Ours."""

BACK_SEEDS = 4
"""Directions looked at closely for the widest channel, best first. Ours."""

CASE_CHOICES = 6
"""Other cases shown beside the chosen one: what fits a panel. Ours."""

PRINTED_STEP_MM = 1.0
"""Printed cases come in whole millimetres across: a rule reads no finer. Ours."""

FAR_BACK_DEG = 45.0
"""The back looks this nearly away from the marked front if it can: the quarter seen least. Ours."""

HALF_BACK_DEG = 90.0
"""The back stays in the half away from the marked front, seen only edge-on at its rim. Ours."""

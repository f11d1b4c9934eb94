"""Of the slit, halves, webs and the pull."""

GIRTH_CELLS = 150
"""Parts of the height that girth is measured in: 0.7 % of the height, as fine as a knife. Ours."""

TWO_HALVES_SHARE = 0.9
"""A slit longer than this share of the height leaves no hinge: cut through. Common practice, no
source."""

LEDGE_MM = 0.01
"""Two heights nearer than this are one: the underside of a ledge is that flat in a mesh. Ours."""

OFF_END_MM = 1.0
"""How far from a slit's end it shows whether the piece goes on up or down from there. Ours."""

SETBACK_MM = 2.0
"""A slit's line that comes down again by more than this leaves one part for another. Ours."""

LEAST_TEETH_MM = 1.0
"""Teeth that reach less far to each side lock nothing. Common practice, no source."""

BESIDE_MM = 1e-4
"""How far beside a line to look what is inside: above rounding, below any wall. Ours."""

MINOR_PART_SHARE = 0.15
"""A part whose girth is below this share of the piece's decides nothing about the slit. Ours."""

LEAST_PART_GIRTH_MM = 20.0
"""Smaller knobs are not told of: rubber lets a pea go. Common practice, no source."""

SMALL_PARTS_TOLD = 4
"""So many small parts that are held fast are told of one by one, the rest by their number. Ours."""

FAR_LENGTHS = 5.0
"""Widths of a small part within which tight rings above each other are the same stalk. Ours."""

RUESS_FROM_TO = (20.0, 80.0)
"""Hardness that one of the relations with stiffness is stated for. Its source stands with it."""

LIP_HEIGHT_MM = 30.0
"""Height of lip that two hands take hold of. Common practice, no source."""

EASY_PULL_N, HARD_PULL_N = 80.0, 250.0
"""Pull that one opens a mold with easily, and at the most: a hand's steady pull, and the weight of
25 kg. Common practice, no source."""

EASING_STEP = 0.8
"""By how much less the rubber may stretch in each longer slit that is tried where one person could
not open the block: three steps halve it. Ours."""

LEAST_SAFE_SHARE_PERCENT = 5.0
"""Least of the elongation that a rubber is taken to bear; less is a stiff cast. Ours."""

LEAST_BEHIND_ML = 1.0
"""Less rubber behind a piece than this is not told of: a teaspoon holds five. Ours."""

TEAR_SHARE = 0.5
"""Share of the elongation past which a mold tears sooner or later. Common practice, no source."""

DENSE_FACES = 300_000
"""Triangles from which the slit's way is looked for on a simpler surface and then laid on the scan:
half a millimetre apart at the most on a piece of 150 mm. Ours."""

PATH_CELLS = 100.0
"""Parts of the piece's largest size that its triangles are cut to for the slit's line. Ours."""

SIGHT_LINES = 24
"""Level directions from which a place is looked at: every 15 degrees. Ours."""

SEEN_CELLS = 160.0
"""Cells across a picture that tells what stands before what. Ours."""

MOST_SEEN = 150_000
"""Vertices that such a picture is made of, at most: six in each cell, as a rule. Ours."""

FRONT_HALF_DEG = 75.0
"""How far to each side of the front one looks from. Ours."""

UNSEEN_BACK_SHARE = 0.2
"""Share of being seen that the mere side of the piece makes: of two hidden places the one further
back. Ours."""

DETAIL_GRIDS = 3
"""Grids of cubes, shifted against each other, that bends are averaged over. Ours."""

GENTLE_BEND = 0.33
"""Bend, by the scale, up to which a surface counts as smooth: a rod three times as thick. Ours."""

SHUT_IN_COST = 6.0
"""Extra cost where no level blade reaches from outside: another way round as a rule. Ours."""

THICK_COST = 0.15
"""Extra cost where rubber is twice as thick as teeth need: more to cut, but no harm. Ours."""

SAME_PLACE_SHARE = 1e-5
"""Share of the scan's size within which two faces are the same, through files of less digits. Ours.
"""

PATCH_REACH_SHARE = 0.01
"""Share of the scan's size by which a patch may lie off it: a hand-drawn one on a piece of 150 mm,
a millimetre or two. Ours."""

ON_SURFACE_MM = 0.02
"""What lies nearer to a face than this is on it. Ours."""

LINKS_TRIED = 24
"""Nearest vertices among which those of another piece are looked for. Ours."""

DOWNWARD_COST = 3.0
"""How much dearer a slit is that runs straight down again: the blade comes back. Ours."""

TAUT_REACH_SHARE = 0.25
"""How far beside a line its taut one may lie, by the size of the box round it. Ours."""

CONTACT_MM = 5.0
"""How far the line drawn on triangles may lie beside the exact level line. Ours."""

AIM_LEVELS_MM = 2.0
"""Heights between two places at which the blade's direction is chosen. Ours."""

AIM_SIDE_DEG, AIM_STEP_DEG = 80.0, 5.0
"""How far the blade may point beside straight out, and the steps tried. Ours."""

AIM_TURN_COST, AIM_OFF_COST, AIM_SHUT_COST = 20.0, 0.5, 20.0
"""Cost of turning the blade (a square of radians), of pointing beside straight out, and of piece in
its way (by the share of the way that it blocks). Ours."""

SIDE_HALF_DEG, BASE_START_DEG = 45.0, 4.0
"""How far the slit may start beside the side that is set, and beside the start that is set: a
fingertip on a piece 150 mm wide. Ours."""

BESIDE_RISER_MM = 2.0
"""How far beside the riser a slit may start: two strokes of the knife. Ours."""

TEETH_PITCH_MM = (6.0, 20.0)
"""Pitch of teeth in thin and in thick rubber. Common practice, no source."""

LONG_WAVE_MM, LONG_WAVE_SHARE = 3.0, 1.0 / 50.0
"""How far the long waves of a slit go to each side, and how many there are by its length in mm:
every two inches, a hand's breadth of lip cannot slide. Ours."""

PULL_STEPS = 200
"""Rings that the rubber's thickness is summed over: to a thousandth. Ours."""

BLADE_TRIALS_MM = (0.3, 2.5, 5.0, 10.0)
"""Other depths that are tried where the blade would miss the piece: past a thin rim, or short of a
hollow. Ours."""

BLADE_INTO_MM = 1.0
"""How far the blade goes into the piece in the proof, so that nothing is left on it. Ours."""

HALVES_DIRECTIONS, HALVES_PLANES = 12, 40
"""Directions in which halves are tried, every 15 degrees, and parts of the depth in which girth is
looked at. Ours."""

UNDERCUT_CELLS = 80.0
"""Cells across the piece in which undercut is counted: to a hundredth of it. Ours."""

PARTING_CELLS, PARTING_ROUNDS = 150.0, 20
"""Cells across the block of a parting surface, and rounds of smoothing at each of four widths:
flat after them to a hundredth of a cell, as measured. Ours."""

PARTING_SOFT_CELLS = 2.0
"""Width of the last smoothing: no edge where the film leaves the piece's outline. Ours."""

MARK_MARGIN_MM = 2.0
"""How far a parting surface keeps off faces that are marked. Ours."""

GIVE_SHARE = 0.5
"""Share of its thickness, times what it may stretch, by which rubber gives way to the side of a
part that it hooks behind. Ours."""

STRAY_SHARE, STRAY_ROUNDS = 0.05, 4
"""Share of the surface below which a spot on the wrong side of a parting surface goes to what lies
round it, and how often that is looked for: spots lie in spots. Ours."""

SPLIT_DETAIL_CELLS = 60.0
"""Cubes across the piece, as coarse as it is looked at from many sides. Ours."""

WEB_DETAIL_SHARE = 1.0 / 300.0
"""Share of the piece's size by which it may be simplified to count its holes: half a millimetre on
one of 150 mm, the width of a noise's hole. Ours."""

LOOP_ROOTS, LOOP_STEPS = 40, 240
"""Places from which loops through holes are looked for, and points of each loop. Ours."""

HAIR_LOOP_MM = 10.0
"""Loops no longer than this hold a hair of rubber, 3 mm thick, that tears by itself. Common
practice, no source."""

THICK_WEB_MM = 15.0
"""A wider web is not cut through in one stroke, and pulls on a handle. Common practice, no
source."""

RISER_OVERLAP_MM = 0.01
"""How far the riser goes into the piece where both are made one solid. Ours."""

KERF_MM = 0.05
"""Thickness of the blade in the proof: two surfaces in one place would prove nothing. Ours."""

PROOF_MARGIN_MM = 2.0
"""How far the blade stands out of the block in the proof. Ours."""

THIN_SKIN_MM = 0.05
"""A skin of rubber that thin tears by itself: it is not looked for. Common practice, no source."""

LOW_SKIN_MM = 0.5
"""A strip of rubber that low between two heights of the knife tears by itself. Common practice, no
source."""

CRUMB_SHARE = 1e-3
"""Share of the block below which a part that a parting surface cuts off is a crumb: 2 ml of two
litres, that one finger holds. Ours."""

DUST_SHARE = 1e-5
"""Share of the block below which a part is dust: 0.02 ml of two litres. Ours."""

KNIFE_STEP_MM = 10.0
"""Heights between two depths of the knife. Common practice, no source."""

SEAM_GIRTH_SHARE = 0.9
"""A piece that has this share of its riser's girth stands on it whole. Ours."""

SEAM_MOST_MM = 10.0
"""Most that the base may be out of flat and be sealed with wax: the greatest Base Tolerance.
Ours."""

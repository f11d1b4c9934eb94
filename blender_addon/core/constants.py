"""Constants and tolerances, each with its unit, source and reason; all in one place on purpose.

Materials and stock are in ``catalog``.
"""

GRAVITY_M_S2 = 9.80665
"""Standard gravity, ISO 80000-3 (3rd CGPM, 1901)."""

MM_PER_INCH = 25.4
"""NIST SP 811, appendix B."""

KPA_PER_PSI = 6.894757
"""NIST SP 811, appendix B."""

KPA_PER_INHG = 3.386389
"""Inch of mercury at 0 °C: NIST SP 811, appendix B."""

GROUND_MM = 1e-6
"""Lengths below this are zero: a float32 STL of a 300 mm piece resolves 3e-5 mm."""

SKIN_MM = 1e-3
"""Thickness of a surface of which nothing else is known: it parts air and holds nothing. Ours."""

TALLEST_MASTER_MM = 3000.0
"""No poured block is taller; beyond it the unit was mistaken. Common practice, no source."""

SMALLEST_MASTER_MM = 2.0
"""No piece to be poured is smaller; below it the unit was mistaken. Common practice, no source."""

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

CONE_FROM_UPRIGHT_DEG = 40.0
"""Walls of the funnel's cone: 45 prints without supports, 5 in hand. Common practice, no source."""

LEAST_THROAT_MM = 4.0
"""A narrower throat passes less than 0.01 ml/s of rubber of 20 Pa s: it only drips. Ours."""

THROAT_DIP_MM = 15.0
"""How far the throat reaches below the rim at most: it leads the stream and still flows. Ours."""

FUNNEL_SEAT_MM = 2.0
"""Thickness of the funnel's saddle on the rim, at the throat. Common practice, no source."""

HOOK_ROOM_MM = 8.0
"""From the case's outside to that of the funnel's hook, fit clearance included. Ours."""

HOOK_DROP_MM = 14.0
"""How far the hook reaches down the case's outside, so that a full bowl does not tip. Ours."""

HOOK_SHARE = 0.6
"""Half the hook's breadth by the radius of bowl or case: steady, and under the bowl. Ours."""

BOWL_STRAIGHT_SHARE = 0.5
"""Height of the bowl's straight wall by its radius: no wider than it must be. Ours."""

HOLD_FACTOR = 2.0
"""What must hold is built for twice the computed pull. Common practice, no source."""

TAPE_BEARS_N_MM = 1.0
"""What cloth tape is trusted with by its width. Common practice, no source."""

TAPE_WIDE_MM = 48.0
"""Width of the cloth tape that shops keep. Common practice, no source."""

FEWEST_BANDS = 2
"""Bands round any case: one would let the seams gape above or below it. Common practice, no
source."""

OPEN_SEAM_MM = 0.2
"""A hair's gap that a bead of wax may leave. Common practice, no source."""

HEAVIEST_RUBBER_KG_M3 = 1400.0
"""For the wall of a printed case, which is chosen before the rubber: filled rubber is no heavier,
1350 at the most in the usual classes. Common practice, no source."""

WALL_STEP_MM = 0.1
"""Walls are made thicker in such steps. Ours."""

POT_LIFE_TIGHT_SHARE = 0.5
"""Share of the pot life after which the rubber thickens. Common practice, no source."""

POT_LIFE_LATEST_SHARE = 0.8
"""Share of the pot life after which no rubber is poured. Common practice, no source."""

ROUND_SEGMENTS = 256
"""Sides of a printed round: flats touch the true circle, the bore holds 0.005 % too much. Ours."""

FOOT_RIM_MM = 5.0
"""Height of the rim on the board that the case's foot stands in. Common practice, no source."""

FOOT_RIM_WIDE_MM = 4.0
"""Thickness of that rim. Common practice, no source."""

SEAM_WAX_MM = 2.0
"""Bevel inside that rim: trough for a bead of wax round the foot. Common practice, no source."""

BOARD_MARGIN_MM = 12.0
"""Board left outside the rim, to hold and to clamp. Common practice, no source."""

FLANGE_FOOT_MM = 6.5
"""Where the flanges begin: over the board's rim, with room for a finger of wax. Ours."""

BOLT_HOLES_MM = {"M3": 3.4, "M4": 4.5, "M5": 5.5, "M6": 6.6}
"""Clearance holes for bolts, medium series: ISO 273:1979, table 1."""

WASHERS_MM = {"M3": 7.0, "M4": 9.0, "M5": 10.0, "M6": 12.0}
"""Outside diameters of plain washers, normal series: ISO 7089:2000, table 1."""

NUTS_MM = {"M3": 2.4, "M4": 3.2, "M5": 4.7, "M6": 5.2}
"""Greatest heights of hexagon nuts, style 1: ISO 4032:2012, table 1. From memory."""

WASHERS_THICK_MM = {"M3": 0.5, "M4": 0.8, "M5": 1.0, "M6": 1.6}
"""Thicknesses of plain washers, normal series: ISO 7089:2000, table 1. From memory."""

THREAD_PITCHES_MM = {"M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0}
"""Coarse threads: ISO 261:1998. From memory."""

BOLT_LENGTHS_MM = (8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0)
"""Lengths that hexagon head screws are sold in: ISO 4017:2014. From memory."""

PRINTED_STRESS_MPA = 5.0
"""Tension that a printed flange is trusted with across its layers, a quarter of the 20 MPa and more
that usual plastics hold there. Common practice, no source."""

PRINTED_MODULUS_MPA = 1500.0
"""Stiffness of printed plastic that is loaded for a day: from 2000 MPa at once. Common practice, no
source."""

SEAM_OPENING_MM = 0.05
"""How far a seam may open between two bolts: a gap of 0.1 mm leaks 0.03 ml a minute along a seam of
300 mm by plane flow. Ours."""

SHORT_SIDE_MM = 0.02
"""Sides of a bore that are shorter are left out of the printed wall: 4 micrometres at most are lost
at a corner, and a side without length has no direction. Ours."""

LEAST_LAND_MM = 0.8
"""Narrowest wall left beside a groove or a hole: two lines of a 0.4 mm nozzle. Common practice, no
source."""

TONGUE_MM = 2.5
"""Breadth of the tongue along a seam where there is room: six printed lines. Ours."""

LEAST_TONGUE_MM = 1.2
"""A narrower tongue breaks off: three printed lines. Common practice, no source."""

TONGUE_HIGH_SHARE = 0.6
"""Height of the tongue by its breadth. Ours."""

TONGUE_TOP_SHARE = 0.7
"""Breadth of the tongue's top by that of its root: it finds its groove. Ours."""

CORD_PRESSED_SHARE = 0.25
"""How far a soft round cord is pressed by its diameter: 15 to 30 % for face seals in handbooks.
From memory."""

SKIRT_TIP_MM = 0.6
"""Thickness of the skirt between two rings at its lower edge: no edge to chip or to cut. Ours."""

EDGE_CHAMFER_MM = 1.0
"""Edges that fingers grip are broken by this much. Common practice, no source."""

GUSSET_MM = 3.0
"""How far the flange thickens towards the wall, at most. Common practice, no source."""

CLIP_SEAT_MM = 1.0
"""Depth of a clip's seat: it cannot slide along the flange. Ours."""

MARK_MM = 1.6
"""How far the rib at the back of a case stands out: to be felt with gloves on. Ours."""

LEAST_FLOOR_MM = 2.0
"""Board left under the groove for the case: ten layers. Common practice, no source."""

KEY_WIDE_MM, KEY_DEEP_MM, KEY_NECK_SHARE = 14.0, 9.0, 0.6
"""Keys that lock the tiles of a board: breadth and depth, and the neck by the breadth. Ours."""

MOST_TILES = 4
"""Tiles of a board each way, at most: beyond it a sheet of wood is better. Ours."""

STEEPEST_OVERHANG_DEG = 45.5
"""Lean from upright that prints without supports: 45, and rounding. Common practice, no source."""

OVERHANG_MM2 = 0.05
"""Overhanging faces smaller than this in all are rounding: no line of a printer is as small.
Ours."""

BED_TOUCH_MM = 0.01
"""What is this near to the bed lies on it: a twentieth of a thin layer. Ours."""

THINNEST_LAYER_MM = 0.1
"""What joins the rest of a part within this height was never alone. Common practice, no source."""

BED_GAP_MM = 5.0
"""Room between parts on one print bed. Common practice, no source."""

BOARD_MARGINS_MM = (BOARD_MARGIN_MM, 8.0, 4.0)
"""Board left outside the rim, to hold and to clamp: less where it then fits the print bed in one.
Common practice, no source."""

ARROW_MM = 12.0
"""How far the arrow at the back stands out from the board, and how broad it is. Ours."""

BED_TURN_DEG = 5.0
"""Steps in which a part is turned on the print bed in search of a place. Ours."""

MOST_RINGS = 12
"""A case in more rings than this is no case: every joint may leak. Ours."""

SEAM_STEP_DEG = 0.25
"""Steps of the direction in which the two seams of a case are looked for. Ours."""

SEAM_TURN_DEG = 1.0
"""How squarely a seam must meet the wall: within it each half comes off straight. Ours."""

SLIVER_MM = 1e-6
"""A triangle lower than this is a line: float32 resolves 3e-5 mm at 500 mm. Ours."""

WELD_MM = 1e-3
"""Corners of a part nearer than this become one: far above float32, far below any printer. Ours."""

DUSTS_MM = (5e-4, 1e-3, 2e-3, 4e-3)
"""Bends of a part smaller than the first are flattened: no slivers, and no printer shows them. The
others are tried where needles are left. Ours."""

HOLE_SEGMENTS = 48
"""Sides of a bolt's hole: within 0.01 mm for the M6 that is the largest. Ours."""

HAIR_MM = 0.06
"""Half the width of the narrowest printed riser, and of the narrowest gap in it. Ours."""

OUTLINE_STEP_MM = 0.02
"""Bends of the riser's outline below this are left out: a twentieth of a printed line. Ours."""

BOWL_LIP_MM = 3.0
"""Least height of the bowl's straight wall: an edge to print on and to hold. Ours."""

JAW_STEP_MM = 0.1
"""Least step between the throat and the jaw it stands in: surfaces must not just touch. Ours."""

LEAST_JAW_MM = 3.0
"""Breadth of the funnel's jaw beside the throat, and its least depth in the case. Ours."""

LEAST_DIP_MM = 1.0
"""A throat that cannot dip this far, for want of freeboard, ends this far over the rim. Ours."""

THROAT_BELOW_JAW_MM = 1.0
"""The throat's end stands out below the jaw, so that the stream leaves it clean. Ours."""

PLANE_OFFSET_SHARE = 1e-6
"""How far beside a ledge to measure, by the height: above the 6e-8 of float32, below any effect.
Ours."""

GIRTH_CELLS = 150
"""Parts of the height that girth is measured in: 0.7 % of the height, as fine as a knife. Ours."""

TWO_HALVES_SHARE = 0.9
"""A slit longer than this share of the height leaves no hinge: cut through. Common practice, no
source."""

LEAST_TEETH_MM = 1.0
"""Teeth that reach less far to each side lock nothing. Common practice, no source."""

ATMOSPHERE_PA = 101325.0
"""Standard atmosphere, 10th CGPM, 1954."""

BESIDE_MM = 1e-4
"""How far beside a line to look what is inside: above rounding, below any wall. Ours."""

MINOR_PART_SHARE = 0.15
"""A part whose girth is below this share of the piece's decides nothing about the slit. Ours."""

LEAST_PART_GIRTH_MM = 20.0
"""Smaller knobs are not told of: rubber lets a pea go. Common practice, no source."""

FAR_LENGTHS = 5.0
"""Widths of a small part within which tight rings above each other are the same stalk. Ours."""

LIP_HEIGHT_MM = 30.0
"""Height of lip that two hands take hold of. Common practice, no source."""

EASY_PULL_N, HARD_PULL_N = 80.0, 250.0
"""Pull that one opens a mold with easily, and at the most: a hand's steady pull, and the weight of
25 kg. Common practice, no source."""

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

KNIFE_CARD_EDGE_MM = 12.0
"""Paper left beside the knife's line, to hold and to tape. Common practice, no source."""

CRUMB_SHARE = 1e-3
"""Share of the block below which a part that a parting surface cuts off is a crumb: 2 ml of two
litres, that one finger holds. Ours."""

DUST_SHARE = 1e-5
"""Share of the block below which a part is dust: 0.02 ml of two litres. Ours."""

KNIFE_STEP_MM = 10.0
"""Heights between two depths of the knife. Common practice, no source."""

FILL_STEP_MM = 5.0
"""Heights between two lines of the fill table: what can be read off a ruler in the mold. Ours."""

FILL_DEEP_MM = {
    "fast polyurethane": 25.0,
    "slow polyurethane": 50.0,
    "epoxy": 10.0,
    "polyester": 10.0,
}
"""No deeper at a time, by class of resin. Common practice, no source; the data sheet first: for
epoxy its largest pour, polyester thin or filled only."""

LASTING_HEAT_C = 40.0
"""A fill cools below this before the next is poured on it. Common practice, no source."""

RESIN_DIFFUSIVITY_MM2_S = 0.101
"""0.2 W/(m K) by 1100 kg/m3 and 1800 J/(kg K), cured resin, from memory: heat leaves a layer in
about its thickness squared by this."""

SANDING_MM = 3.0
"""Of the riser, what is kept for sanding beside what shrinks. Common practice, no source."""

MIX_DENSITY_SHARE = 0.05
"""A mix farther than this from what its parts weigh together was mistyped: no swelling is that
large. Ours."""

MIX_ERROR_SHARE = 0.02
"""A part weighed off by more than this is told of. Common practice, no source; data sheet first."""

COAT_MOST_SHARE = 0.3
"""Of all rubber, beyond which a brushed coat is thicker than anybody brushes. Common practice, no
source."""

CHUNKS_MOST_SHARE = 0.25
"""Of the poured rubber, what old chunks may take up: fresh rubber must run round each. Common
practice, no source."""

POT_CLEARANCE_MM = 5.0
"""Room on each side of a block, to lift it in and out. Common practice, no source."""

ATMOSPHERE_KPA = 101.325
"""Standard atmosphere, 10th CGPM, 1954."""

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
"""Overlapping pieces are told of when they count this share of the copy twice: a scale's error.
Ours."""

BASE_ROUGHNESS = 0.005
"""How far from its plane a scanned base may lie, as a share of the piece's diagonal. Our choice."""

FLAT_BASE_SHARE = 0.01
"""Less of the surface than this lying in one plane of the hull is no base: a ball has 0.0087."""

PREFER_GIVEN_UP = 0.25
"""A base under the scan's own +z is taken unless another flat place is this many times wider
(1 / 0.25): a cap with a flat top on a narrow foot stands on the foot. Ours."""

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

NEAREST_SAMPLES = 3
"""Nearest points of a sampled surface whose triangles are measured: the corner's own, as a rule.
Ours."""

SHELL_BAND_CELLS = 2.8
"""Cells about the shell's inside where distance is exact: a cell's diagonal and the raster's
error. Ours."""

SHELL_KNOTS = 8
"""Steps up to the set shell, and again beyond it, in the table of other shells: with a smooth
curve between them, a coat in a ball of five shells' radius is off by less than 0.3 %. Ours."""

SHELL_ERROR_SHARE = 1e-3
"""A cavity below this share of the copy is nothing but the grid's error. Ours."""

SMALLEST_ML = 1e-9
"""Volumes below this are zero: a cube of a micrometre. Ours."""

FILL_TIP_SHARE = 0.005
"""Of a cavity, what lies in its deepest tip and makes no fill deeper: a scale's error. Ours."""

FINE_STEP_MM = 1.0
"""Heights between which fills are shared out: a ruler's step. Ours."""

HOLLOW_LEAST_ML = 1.0
"""Less than this left hollow behind a narrow place is not told of. Common practice, no source."""

BRUSH_CELLS = 6.0
"""Cells across the brush in the search for narrow places: its error is a sixth of the brush."""

LARGEST_GRID_CELLS = 6e6
"""Largest grid of cells: its distance transforms take about 0.3 GB."""

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

LEAST_FOOT_MM2 = 1.0
"""Smaller islands of the foot get no riser: a printer cannot make them. Common practice, no
source."""

WELL_CLOSED_SHARE = 0.1
"""A patch wider than this share of the piece is a guess about its shape; say so. Our choice."""

SEAM_GIRTH_SHARE = 0.9
"""A piece that has this share of its riser's girth stands on it whole. Ours."""

SEAM_MOST_MM = 10.0
"""Most that the base may be out of flat and be sealed with wax: the greatest Base Tolerance.
Ours."""

CRISP_COSINE = 0.5
"""Faces that turn by more than 60 degrees are an edge of the piece; noise turns
less. Ours."""

MOST_SMOOTHING = 60
"""Steps of smoothing at the most: on a finer scan the radius shrinks instead of the time growing.
Ours."""

WIDE_RIM_SHARE = 0.3
"""An opening this wide, as a share of the plan's diagonal, may be the one it stood on. Ours."""

RAGGED_RIM_SHARE = 0.05
"""How far the rim of a wide base may run up, as a share of the height. Ours."""

EVEN_RIM_SHARE = 0.005
"""How far that of a small foot may: hardly at all, or a hole above it would grow a leg. Ours."""

LONG_EDGE_SHARE = 4.0 / 3.0
"""An edge this many times too long is split: its halves are then nearer to what is wanted. Botsch,
Kobbelt: A remeshing approach to multiresolution modeling, 2004."""

SPLIT_ROUNDS, FLIP_ROUNDS = 80, 30
"""Rounds of splitting, and of flipping in each, at the most: a patch a hundred edges across takes
half as many. Ours."""

MOST_ACROSS_PATCH = 120.0
"""Edges across a patch at the most: on a very fine rim it is no finer than can be seen. Ours."""

FAIR_ROUNDS = 4
"""Times that a patch is made smooth on the shape it had before: the next changes nothing seen.
Ours."""

FAIR_HOLD_SHARE = 1e-12
"""Of the stiffest vertex: what nothing holds, as in a patch without extent, stays there. Ours."""

LONG_IN_PATCH_SHARE = 2.0
"""A patch whose edges are all shorter than this many of its rim's is left as it is: a torn triangle
or two. Ours."""

FAR_FROM_FLAT_SHARE = 0.5
"""A patch that would bulge by more than this share of its width is left flat: a half ball. Ours."""

FLATTEST_COTANGENT = 50.0
"""Of the angles of a triangle, about one degree: slivers of a scan must not outweigh the rest.
Ours."""

PICTURE_PIXELS = 520
"""Pixels along the longer side of a piece in a picture: two a millimetre on a large one. Ours."""

LINES_IN_PIXEL = 2
"""Lines of sight across a pixel, each way: four levels of grey smooth an edge. Ours."""

DARKEST_SHARE = 0.3
"""Brightness of what the lamp does not reach, so that undersides keep their colour. Ours."""

LINE_SHARE = 0.45
"""What is left of the colour where a line is drawn. Ours."""

STEP_PIXELS = 4.0
"""A step back in depth by this many pixels is drawn as a line. Ours."""

LABEL_PIXELS = 18.0
"""Height of a line of text in a picture. Ours."""

SCALE_BARS_MM = (500, 100, 20, 5, 1)
"""Lengths of the bar that gives a picture's scale: the first that is no longer than the piece.
Ours."""

PRINTER_EDGE_MM = 10.0
"""Edge of a sheet that is left bare: home printers reach to 3 to 6 mm. Common practice, no
source."""

CHECK_LINE_MM = 100.0
"""Line on every sheet that tells whether it was printed at true size. Common practice, no source.
"""

JOIN_MARK_MM = 7.0
"""Half a diamond across a joint of two sheets: seen at arm's length. Ours."""

DUCT_CELLS = 40
"""Triangles across a throat whose flow is computed: it comes out 0.1 to 0.5 % low. Ours."""

THROAT_CORNER_MM = 3.0
"""Rounding inside the throat's corners: rubber creeps through sharper ones. Ours."""

PAPER_MM = 0.1
"""Thickness of printer paper of 80 g/m2: wrapped, its middle is longer by pi times it. Common
practice, no source."""

WRAP_FLAP_MM = 12.0
"""Flap of a wrap that is glued under its other end. Ours."""

CARD_FOLD_DEG = 3.0
"""A card band that turns by more at a point has a line there to bend it along. Ours."""

CARD_FLAP_MM = 8.0
"""Depth of the flaps and tabs of card that are glued. Common practice, no source."""

CARD_TAB_MM = 10.0
"""Width of a tab along a bent edge. Common practice, no source."""

CARD_HOOK_MM = 22.0
"""Width of a strip of card that holds the funnel on the rim. Ours."""

CARD_HOOK_DROP_MM = 30.0
"""How far that strip goes down the outside of the case, to be taped there. Ours."""

CARD_BAND_MM = 165.0
"""Longest straight band of a card pattern: with its flap it fits across A4 and Letter. Ours."""

SHEET_EDGE_MM = 14.0
"""Edge of a job sheet: printers reach it, and a clip or holes find room. Common practice, no
source."""

SHEET_WIDE_MM = 180.0
"""Width of the text of a job sheet on either paper, at most. Ours."""

CUT_VIEW_MM = (84.0, 96.0)
"""Width and height that each picture of the cut has at the most: two side by side on either paper.
Ours."""

CUT_VIEW_PIXELS = 260
"""Pixels along the longer side of the piece there: three a millimetre of paper. Ours."""

CUT_VIEW_SCALES = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0)
"""By how much a picture of the cut may be smaller than the block: numbers easy to reckon with."""

LEAST_DASH_RUN_MM = 3.0
"""Of a line, a shorter stretch that the piece hides or bares is not drawn apart. Ours."""

FIGURE_MM, SMALL_FIGURE_MM = 84.0, 57.0
"""Longest side of a picture of the brush map on the job sheet: two or three side by side. Ours."""

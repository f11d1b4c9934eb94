"""Of parts to print: board, shells, seams, beds."""

HOOK_DROP_MM = 14.0
"""How far the hook reaches down the case's outside, so that a full bowl does not tip. Ours."""

HOOK_SHARE = 0.6
"""Half the hook's breadth by the radius of bowl or case: steady, and under the bowl. Ours."""

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

PRINTED_MODULUS_MPA = 1500.0
"""Stiffness of printed plastic that is loaded for a day: from 2000 MPa at once. Common practice, no
source."""

SEAM_OPENING_MM = 0.05
"""How far a seam may open between two bolts: a gap of 0.1 mm leaks 0.03 ml a minute along a seam of
300 mm by plane flow. Ours."""

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

KEY_STEP_MM = 2.0
"""By how much a key is moved on where an edge of the board runs over it. Ours."""

KEY_LAND_MM = 2.0
"""Least breadth of what stays between a key and an edge of groove, rim or riser: two walls of
print each side. Ours."""

KEY_LEVELS_MM = (-0.5, 0.5, 3.0)
"""Heights over the board's top where its edges are looked at: groove, rim's foot, rim. Ours."""

MOST_TILES = 4
"""Tiles of a board each way, at most: beyond it a sheet of wood is better. Ours."""

GUIDE_PLATE_MM, GUIDE_FOOT_MM = 3.0, 2.0
"""Thickness of a knife guide, and how much thicker its foot is: stiff, and felt to be the foot.
Common practice, no source."""

GUIDE_BEVEL_SHARE = 2.0
"""Width of the bevel along a guide's edge by its thickness: the edge touches the block, and however
the line slants, its underside leans by less than 45 degrees. Ours."""

GUIDE_STRAP_MM, GUIDE_STRAP_DEEP_MM = 27.0, 1.2
"""Groove round a knife guide for a strap or tape of 25 mm. Common practice, no source."""

GUIDE_LEAST_MM, GUIDE_MOST_SHARE = 25.0, 0.3
"""Least width of a knife guide beside its line, to be held by; and the share of the block's girth
that one covers at the most, to be put on from the side. Ours."""

GUIDE_STEP_MM = 3.0
"""Sides of the triangles of a knife guide: off a wall of 50 mm radius by 0.02 mm. Ours."""

GUIDE_ROW_MM = 0.2
"""Least height between two rows of a guide's points: a printer's layer. Common practice, no
source."""

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

BED_EDGE_MM = 0.05
"""By less than this no part is too large for a bed: it would read 0.0, and printers keep off their
bed's edge by more than the rounding of a wall's corners. Ours."""

BED_TURN_DEG = 5.0
"""Steps in which a part is turned on the print bed in search of a place. Ours."""

MOST_RINGS = 12
"""A case in more rings than this is no case: every joint may leak. Ours."""

SEAM_STEP_DEG = 0.25
"""Steps of the direction in which the two seams of a case are looked for. Ours."""

SEAM_FLAT_MM = 2.0
"""A longer side of a bore is flat: rounded ones have a side for every 2 degrees or less. Ours."""

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

JAW_STEP_MM = 0.1
"""Least step between the throat and the jaw beside it: surfaces must not just touch. Ours."""

WITHIN_MM = 0.05
"""How far a wall that goes on in another lies within it: surfaces must not just touch. Ours."""

JAW_WIDE_MM = 6.0
"""Least breadth of the jaw on each side of the throat: it bears a full bowl that is knocked. Ours.
"""

FIXING_ROOM_MM = 8.0
"""From a flange to the funnel's jaw: room for an M6 head or nut with its washer. Ours."""

LEAST_JAW_MM2 = 20.0
"""What is left of the outer jaw beside a flange and is smaller in plan holds nothing. Ours."""

LEAST_JAW_MM = 3.0
"""Least depth of the funnel's jaws in the case. Ours."""

THROAT_BELOW_JAW_MM = 1.0
"""The throat's end stands out below the jaw, so that the stream leaves it clean. Ours."""

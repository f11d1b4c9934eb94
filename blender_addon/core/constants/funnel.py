"""Of the funnel, its throat and its card pattern."""

CONE_FROM_UPRIGHT_DEG = 40.0
"""Walls of the funnel's cone: 45 prints without supports, 5 in hand. Common practice, no source."""

LEAST_THROAT_MM = 4.0
"""A narrower throat passes less than 0.01 ml/s of rubber of 20 Pa s: it only drips. Ours."""

THROAT_DIP_MM = 15.0
"""How far the throat reaches below the rim at most: it leads the stream and still flows. Ours."""

THROAT_SLOT_MM = 40.0
"""A throat no narrower than its channel goes no further along the wall: as far as one pours. Ours.
"""

THROAT_SLOT_SHARE = 2.0
"""Nor further than so many times the channel's width: the bowl stays small. Ours."""

FUNNEL_SEAT_MM = 2.0
"""Thickness of the funnel's saddle on the rim, at the throat. Common practice, no source."""

HOOK_ROOM_MM = 8.0
"""From the case's outside to that of the funnel's hook, fit clearance included. Ours."""

BOWL_STRAIGHT_SHARE = 0.5
"""Height of the bowl's straight wall by its radius: no wider than it must be. Ours."""

BOWL_LIP_MM = 3.0
"""Least height of the bowl's straight wall: an edge to print on and to hold. Ours."""

LEAST_DIP_MM = 1.0
"""A throat that cannot dip this far, for want of freeboard, ends this far over the rim. Ours."""

DUCT_CELLS = 40
"""Triangles across a throat whose flow is computed: it comes out 0.1 to 0.5 % low. Ours."""

THROAT_CORNER_MM = 3.0
"""Rounding inside the throat's corners: rubber creeps through sharper ones. Ours."""

WIDE_THROAT_MM = 60.0
"""A throat that measures more both ways leaves it to the hand where the stream falls. Ours."""

FAR_OFF_WALL_MM = 1.0
"""A throat further off the wall lets the stream fall free; nearer, rubber fills the gap. Ours."""

CARD_AIR_MM = 1.0
"""Between a card throat's inside and the case: card up to 0.5 mm thick, and air. Ours."""

CARD_AIR_PARTS = 8.0
"""At most this part of a narrow throat goes to that air: half its rounding. Ours."""

CARD_FOLD_DEG = 3.0
"""A card band that turns by more at a point has a line there to bend it along. Ours."""

CARD_BAND_MM = 165.0
"""Longest straight band of a card pattern: with its flap it fits across A4 and Letter. Ours."""

"""Of templates, drawings and the job sheet."""

KNIFE_CARD_EDGE_MM = 12.0
"""Paper left beside the knife's line, to hold and to tape. Common practice, no source."""

PRINTER_EDGE_MM = 10.0
"""Edge of a sheet that is left bare: home printers reach to 3 to 6 mm. Common practice, no
source."""

CHECK_LINE_MM = 100.0
"""Line on every sheet that tells whether it was printed at true size. Common practice, no source.
"""

JOIN_MARK_MM = 7.0
"""Half a diamond across a joint of two sheets: seen at arm's length. Ours."""

PAPER_MM = 0.1
"""Thickness of printer paper of 80 g/m2: wrapped, its middle is longer by pi times it. Common
practice, no source."""

WRAP_FLAP_MM = 12.0
"""Flap of a wrap that is glued under its other end. Ours."""

CARD_FLAP_MM = 8.0
"""Depth of the flaps and tabs of card that are glued. Common practice, no source."""

CARD_TAB_MM = 10.0
"""Width of a tab along a bent edge. Common practice, no source."""

CARD_HOOK_MM = 22.0
"""Width of a strip of card that holds the funnel on the rim. Ours."""

CARD_HOOK_DROP_MM = 30.0
"""How far that strip goes down the outside of the case, to be taped there. Ours."""

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

LEAST_FIGURE_SHARE = 0.65
"""Of a picture's size, down to which it is made smaller to stand on the page of its words: rings
and numbers on it can still be read. Ours."""

FOLD_ROWS = 8
"""Rows from which a table that leaves half the page's width bare goes on beside itself. Ours."""

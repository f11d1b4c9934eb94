"""Of pictures that are drawn without Blender."""

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

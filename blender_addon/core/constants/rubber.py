"""Of rubber: mixing, pouring, holding the case."""

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

POT_LIFE_TIGHT_SHARE = 0.5
"""Share of the pot life after which the rubber thickens. Common practice, no source."""

POT_LIFE_LATEST_SHARE = 0.8
"""Share of the pot life after which no rubber is poured. Common practice, no source."""

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

HAND_POUR_ML_S = 20.0
"""What is poured from a cup in a thin stream, whatever the throat passes: faster, the stream draws
air in. Common practice, no source."""

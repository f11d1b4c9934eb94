"""The slit that lets the piece out of the block."""

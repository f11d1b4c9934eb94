"""Tolerances of the lists of stock."""

MIX_DENSITY_SHARE = 0.05
"""A mix farther than this from what its parts weigh together was mistyped: no swelling is that
large. Ours."""

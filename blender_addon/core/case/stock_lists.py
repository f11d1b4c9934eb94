"""Whose tubes there are to choose from."""

OWN, BOTH, COMMON = "own tubes", "own and common", "common sizes"

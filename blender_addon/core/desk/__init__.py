"""A run of the whole job for the window, beside it: what it needs, remembers and hands back."""

"""Drawings at true scale, and the sheets that go to the bench."""

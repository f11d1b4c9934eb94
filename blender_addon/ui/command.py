"""The command line of an installed Blender: `blender -c riseline layout SCAN …`."""

from __future__ import annotations

from importlib import import_module


def run(argv: list[str]) -> int:
    """Hand the arguments to the command line that serves everywhere."""
    return import_module("..cli", __package__).main(argv)

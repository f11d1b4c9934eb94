"""Riseline: lays out a poured rubber mold from a scan of the clay.

Nothing of ours is imported here at the top: core is used without Blender as well.
"""

from importlib import import_module
from types import ModuleType


def register() -> None:
    """Add everything to Blender; Blender calls this when the add-on is enabled."""
    _registration().register()


def unregister() -> None:
    """Take everything away again, also work that still runs."""
    _registration().unregister()


def _registration() -> ModuleType:
    return import_module(".ui.registration", __package__)

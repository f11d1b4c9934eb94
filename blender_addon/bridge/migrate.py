"""Files of an older version of the add-on, brought to what this one expects.

Each file bears the number of its form. What an older form lacks is filled in when it is opened;
nothing that the maker made or set is lost.
"""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from .names import FULL_MM, OWN, RUBBER_ROLE, SCULPT
from .show import own_collection, own_objects

if TYPE_CHECKING:
    import bpy

FORM = 2
"""1, not written into the file: one piece in a scene, known by name. 2: pieces known by pointer."""


def migrate(scene: bpy.types.Scene) -> bool:
    """Bring what is stored with a scene to this form; return whether there was anything to do.

    Parameters
    ----------
    scene : bpy.types.Scene
        Of a file that was just opened.
    """
    stored = scene.riseline
    if stored.form >= FORM:
        return False
    stored.form = FORM
    if not stored.results.token or stored.piece is not None:
        return False
    stored.piece = scene.objects.get(stored.results.source)
    stored.measured = next(
        (name for name in ("width", "depth") if getattr(stored.scan, f"{name}_mm") > 0.0), "height"
    )
    stored.sculpt = stored.sculpt or uuid.uuid4().hex
    collection = own_collection(scene)
    if collection is not None:
        collection[SCULPT] = stored.sculpt
    for thing in own_objects(scene):
        if thing[OWN] == RUBBER_ROLE and FULL_MM not in thing:
            thing[FULL_MM] = stored.results.case_level_z_mm
    return True

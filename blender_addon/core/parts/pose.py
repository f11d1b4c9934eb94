"""How a part is laid on the print bed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import GROUND_MM
from ..errors import BadSettingError
from ..sentences import a_length
from .result import UPSIDE_DOWN

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from .bed import Bed

OVER = np.diag([1.0, -1.0, -1.0, 1.0])
"""Half a turn about x: flanges, bowl and hook then grow from what is printed before them."""


def pose_of(name: str, placed: Mesh, lies: str, bed: Bed, *, must_fit: bool = True) -> Floats:
    """Return the matrix (4, 4) that turns a part from the bed into the job frame.

    Raises
    ------
    BadSettingError
        If it must fit and the bed has no room for it, however it is turned.
    """
    over = OVER if lies == UPSIDE_DOWN else np.eye(4)
    lying = placed.moved(over)
    low, high = lying.bounds
    tall = float(high[2] - low[2])
    turn = bed.turn_deg(lying.vertices[:, :2])
    if must_fit and (turn is None or tall > bed.z_mm + GROUND_MM):
        wide, deep = (float(one) for one in (high - low)[:2])
        message = (
            f"the {name} takes {a_length(wide)} by {a_length(deep)} and is"
            f" {a_length(tall)} high; the printer has {a_length(bed.x_mm)} by"
            f" {a_length(bed.y_mm)} by {a_length(bed.z_mm)}, and it cannot be split."
        )
        raise BadSettingError("parts.bed_z_mm" if turn is not None else "parts.bed_x_mm", message)
    if turn is None:
        turn = bed.nearest_turn_deg(lying.vertices[:, :2])
    turned = math.radians(turn)
    cos, sin = math.cos(turned), math.sin(turned)
    back = np.eye(4)
    back[:2, :2] = [[cos, sin], [-sin, cos]]
    pose: Floats = over @ back
    return pose

"""The looks that a maker should take at a new layout before anything is printed, in order."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Stop:
    """One look: the button, what is shown for it, whose roles are framed, and from where.

    ``eye`` is the direction from what is framed to the eye, in the scene; None looks at the
    places to brush from where most of them are seen.
    """

    text: str
    icon: str
    shows: frozenset[str]
    roles: frozenset[str]
    eye: tuple[float, float, float] | None


MASTER_AND_CASE = frozenset({"master", "case"})

STOPS = (
    Stop("Look at the Brush Map", "BRUSH_DATA", frozenset({"map"}),
         frozenset({"brush map"}), None),
    Stop("Look at the Case", "MESH_CYLINDER", frozenset({"map", "case", "stream", "parts"}),
         MASTER_AND_CASE | {"base", "funnel"}, (0.7, -1.0, 0.35)),
    Stop("Look at the Rubber Rising", "MOD_FLUIDSIM", frozenset({"map", "case", "rubber", "air"}),
         MASTER_AND_CASE, (0.7, -1.0, 0.2)),
    Stop("Look at the Cut", "SNAP_EDGE", frozenset({"cut"}),
         frozenset({"master", "slit"}), (0.9, 1.0, 0.4)),
    Stop("Look at the Parts", "MOD_BUILD", frozenset({"case", "parts"}),
         frozenset({"case", "base", "funnel"}), (-0.8, -1.0, 0.5)),
)  # fmt: skip
"""The cut is at the back, where y is largest; the brush map would hang before the eye there."""

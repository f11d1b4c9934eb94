"""The looks that a maker should take at a new layout before anything is printed, in order."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Stop:
    """One look: the button, what is shown for it, whose roles are framed, and from where.

    ``eye`` is the direction from what is framed to the eye, in the scene; None looks at the
    places to brush from where most of them are seen. It goes round with ``by``: a role, and where
    that lies from the master, level, when the eye is the one given.
    """

    text: str
    icon: str
    shows: frozenset[str]
    roles: frozenset[str]
    eye: tuple[float, float, float] | None
    by: tuple[str, tuple[float, float]] | None = None


MAP_AT_LEFT = ("brush map", (-1.0, 0.0))
"""Elsewhere it would hang before the eye."""

CUT_AT_BACK = ("slit", (0.0, 1.0))

MASTER_AND_CASE = frozenset({"master", "case"})

STOPS = (
    Stop("Look at the Brush Map", "BRUSH_DATA", frozenset({"map"}),
         frozenset({"brush map"}), None),
    Stop("Look at the Case", "MESH_CYLINDER", frozenset({"map", "case", "stream", "parts"}),
         MASTER_AND_CASE | {"base", "funnel"}, (0.7, -1.0, 0.35), MAP_AT_LEFT),
    Stop("Look at the Rubber Rising", "MOD_FLUIDSIM", frozenset({"map", "case", "rubber", "air"}),
         MASTER_AND_CASE, (0.7, -1.0, 0.2), MAP_AT_LEFT),
    Stop("Look at the Cut", "SNAP_EDGE", frozenset({"cut"}),
         frozenset({"master", "slit"}), (0.9, 1.0, 0.4), CUT_AT_BACK),
    Stop("Look at the Parts", "MOD_BUILD", frozenset({"case", "parts"}),
         frozenset({"case", "base", "funnel"}), (-0.8, -1.0, 0.5)),
)  # fmt: skip

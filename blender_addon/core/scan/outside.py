"""Which side is out, piece by piece."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..geometry.connect import chosen_faces, piece_of_faces
from ..geometry.mesh import Mesh
from ..geometry.solid import enclosed_volume_ml

if TYPE_CHECKING:
    from ..arrays import Bools, Ints


@dataclass(frozen=True, eq=False)
class Outward:
    """The mesh facing out; ``kept`` (k,) the faces it was, and how many pieces were treated how."""

    mesh: Mesh
    kept: Ints
    turned: int
    hollows: int


def outward(mesh: Mesh) -> Outward:
    """Turn pieces of a closed mesh that are inside out; leave out hollows that no rubber reaches.

    The largest piece tells what "out" is in this file: a piece wound against it, and lying within
    the box of it, is the wall of a hollow inside.
    """
    count, piece = piece_of_faces(mesh)
    volumes = np.array([
        enclosed_volume_ml(chosen_faces(mesh, piece == number)) for number in range(count)
    ])  # fmt: skip
    main = int(np.argmax(np.abs(volumes)))
    sense = np.sign(volumes[main]) or 1.0
    against = volumes * sense < 0.0
    inside = np.array([_within(mesh, piece == one, piece == main) for one in range(count)])
    hollow = against & inside
    hollow[main] = False
    turned = (volumes < 0.0) & ~hollow
    faces = np.where(turned[piece][:, None], mesh.faces[:, ::-1], mesh.faces)
    kept = np.flatnonzero(~hollow[piece])
    whole = Mesh(mesh.vertices, faces)
    return Outward(
        chosen_faces(whole, kept) if hollow.any() else whole,
        kept,
        int(np.count_nonzero(turned)),
        int(np.count_nonzero(hollow)),
    )


def _within(mesh: Mesh, faces: Bools, of: Bools) -> bool:
    small = mesh.vertices[mesh.faces[faces]].reshape(-1, 3)
    large = mesh.vertices[mesh.faces[of]].reshape(-1, 3)
    return bool(
        (small.min(axis=0) >= large.min(axis=0)).all()
        and (small.max(axis=0) <= large.max(axis=0)).all()
    )

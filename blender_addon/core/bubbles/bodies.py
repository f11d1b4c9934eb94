"""The air of each pocket as a closed body: to look at, to print, to fill with clay."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from ..constants.bubbles import BODY_AGREES_SHARE, BODY_NEAR_SHARE, BODY_STRAY_SHARE, MOST_BODIES
from ..errors import UnusableMeshError
from ..geometry.columns import crossings_of
from ..geometry.manifold import prism, solid_of, to_mesh
from ..geometry.mesh import Mesh
from ..geometry.rows import row_cuts
from ..geometry.solid import enclosed_volume_ml
from ..watch import Watch
from .blocks import blocks, rectangles

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from .pockets import Air, Listed


def bodies_of(mesh: Mesh, air: Air, found: Listed, watch: Watch | None = None) -> tuple[Mesh, ...]:
    """Return the air of the largest pockets as closed meshes, in the order of the list.

    Each is cut exactly out of the space over the pocket's columns, from the escape level up.
    Where the master is no solid, or crosses itself so that the cut holds something else, the body
    is built of the columns, in layers.

    Parameters
    ----------
    mesh : Mesh
        The master that the air was found round.
    air : Air
    found : Listed
        Its pockets, largest first.
    watch : Watch, optional
        Told after each body.
    """
    watch = watch or Watch()
    pockets, members = found.pockets[:MOST_BODIES], found.spaces[:MOST_BODIES]
    near = _solid_near(mesh, air, members) if pockets else None
    bodies: list[Mesh] = []
    every = [air.spaces.cell[own] for own in found.spaces]
    for number, (pocket, spaces) in enumerate(zip(pockets, members, strict=True)):
        watch.at(0.6 + 0.1 * number / len(pockets))
        others = np.concatenate([*every[:number], *every[number + 1 :], every[0][:0]])
        bodies.append(_body(near, air, spaces, others, pocket.volume_ml))
    return tuple(bodies)


def _solid_near(mesh: Mesh, air: Air, members: tuple[Ints, ...]) -> manifold3d.Manifold | None:
    """Return the master as far as it lies near air, or None if it is no solid.

    Cutting a big scan once spares most of the work of cutting it for each pocket.
    """
    try:
        solid = solid_of(mesh)
    except UnusableMeshError:
        return None
    grid, spaces = air.spaces.grid, air.spaces
    reach = 3.0 * grid.pitch_mm
    boxes = []
    for own in members:
        i, j = np.divmod(spaces.cell[own], grid.ny)
        high_mm = spaces.ceiling_mm[own]
        low_mm = high_mm - air.trapped_mm[own]
        at_mm = np.column_stack([grid.x_mm + i * grid.pitch_mm, grid.y_mm + j * grid.pitch_mm])
        low = np.append(at_mm.min(axis=0), low_mm.min()) - reach
        high = np.append(at_mm.max(axis=0), high_mm.max()) + reach
        boxes.append(manifold3d.Manifold.cube(tuple(high - low)).translate(tuple(low)))
    return solid ^ manifold3d.Manifold.batch_boolean(boxes, manifold3d.OpType.Add)


def _body(
    solid: manifold3d.Manifold | None, air: Air, spaces: Ints, others: Ints, volume_ml: float
) -> Mesh:
    """Return the air of some spaces; ``others`` are the cells of all other pockets."""
    grid, cell = air.spaces.grid, air.spaces.cell[spaces]
    high_mm = air.spaces.ceiling_mm[spaces]
    low_mm = high_mm - air.trapped_mm[spaces]
    if solid is not None:
        ends = _from_mm(air, spaces, low_mm), float(high_mm.max()) + grid.pitch_mm
        over = prism(rectangles(cell, grid, margin=1), *ends)
        body = _holding(to_mesh(over - solid), air, cell, low_mm, high_mm)
        beside = np.setdiff1d(others, cell)
        if _strays(body, volume_ml, BODY_AGREES_SHARE) and len(beside):
            # another pocket may hang on by a gap that no column sees: it is cut off in plan, half
            # way between the columns of both
            off = prism(rectangles(beside, grid, margin=0, beyond=0.5), *ends)
            over -= off - prism(rectangles(cell, grid, margin=0), *ends)
            apart = _holding(to_mesh(over - solid), air, cell, low_mm, high_mm)
            body = apart if not _strays(apart, volume_ml, BODY_AGREES_SHARE) else body
        if not _strays(body, volume_ml, BODY_STRAY_SHARE):
            return body
    return blocks(cell, low_mm, high_mm, grid)


def _strays(body: Mesh, volume_ml: float, share: float) -> bool:
    return abs(enclosed_volume_ml(body) - volume_ml) > share * volume_ml


def _from_mm(air: Air, spaces: Ints, low_mm: Floats) -> float:
    """Return where the cut begins: at the escape level, of sealed air below its lowest floor."""
    level_mm = float(air.escapes.level_mm[spaces[0]])
    return level_mm if np.isfinite(level_mm) else float(low_mm.min()) - air.spaces.grid.pitch_mm


def _holding(cut: Mesh, air: Air, cell: Ints, low_mm: Floats, high_mm: Floats) -> Mesh:
    """Return those pieces of a cut that begin and end as stretches of columns do."""
    grid = air.spaces.grid
    if not len(cut.faces):
        return cut
    piece = _pieces(cut)
    met = crossings_of(row_cuts(cut.vertices, cut.faces, grid), grid)
    if len(met.cell) < 2:
        return Mesh(cut.vertices, cut.faces[:0])
    lowest, span = cut.vertices[:, 2].min(), 2.0 * np.ptp(cut.vertices[:, 2])
    middle = cell + ((low_mm + high_mm) / 2.0 - lowest) / span
    above = np.searchsorted(met.cell + (met.z_mm - lowest) / span, middle)
    above = np.clip(above, 1, len(met.cell) - 1)
    fits = np.ones(len(cell), dtype=bool)
    for at, enters, end_mm in ((above, -1, high_mm), (above - 1, 1, low_mm)):
        fits &= (met.cell[at] == cell) & (met.enters[at] == enters)
        fits &= np.abs(met.z_mm[at] - end_mm) <= BODY_NEAR_SHARE * grid.pitch_mm
    ends = np.concatenate([above[fits], above[fits] - 1])
    kept = np.isin(piece, piece[met.face[ends]])
    used, faces = np.unique(cut.faces[kept], return_inverse=True)
    return Mesh(cut.vertices[used], faces.reshape(-1, 3))


def _pieces(mesh: Mesh) -> Ints:
    """Return the number of the piece of each face; pieces share no vertex."""
    a, b, c = mesh.faces.T
    count = len(mesh.vertices)
    pairs = (np.concatenate([a, b]), np.concatenate([b, c]))
    graph = coo_matrix((np.ones(2 * len(a)), pairs), shape=(count, count))
    piece: Ints = connected_components(graph, directed=False)[1].astype(np.int64)[a]
    return piece

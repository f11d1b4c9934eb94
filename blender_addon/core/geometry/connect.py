"""How the triangles of a mesh hang together: welding, pieces, handles, and which side is out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_matrix, csr_matrix
from scipy.sparse.csgraph import breadth_first_order, connected_components

from .mesh import Mesh
from .places import places

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints


def welded(mesh: Mesh) -> tuple[Mesh, Ints]:
    """Return the mesh with vertices of equal position made one, and the faces that were kept.

    Triangles that name a vertex twice are left out, and so are vertices that no triangle names. Of
    triangles that stand in one place, those that face opposite ways cancel each other in pairs, and
    of the others one is left: so no edge of a closed surface comes to lie open. Only a piece that
    is doubled all over keeps one side.

    Returns
    -------
    mesh : Mesh
    kept : ndarray, shape (k,)
        Numbers of the given faces, in order.
    """
    points, place = places(mesh.vertices)
    faces = place[mesh.faces]
    a, b, c = faces.T
    whole = np.flatnonzero((a != b) & (b != c) & (c != a))
    whole = whole[_one_of_each(faces[whole])]
    return _compact(points, faces[whole]), whole


def _one_of_each(faces: Ints) -> Ints:
    """Return the rows that are left of triangles in one place, in order."""
    rows, start = np.arange(len(faces)), np.argmin(faces, axis=1)
    ahead = faces[rows, (start + 1) % 3] < faces[rows, (start + 2) % 3]
    corners = np.sort(faces, axis=1)
    order = np.lexsort(corners.T[::-1])
    ranked, ahead = corners[order], ahead[order]
    new = np.append(True, (ranked[1:] != ranked[:-1]).any(axis=1))[: len(order)]
    if new.all():
        return rows
    place = np.cumsum(new) - 1
    left = np.bincount(place, np.where(ahead, 1, -1))[place]
    outnumbers = np.where(ahead, left > 0, left < 0)
    kept = _first_rows(order[outnumbers], place[outnumbers])
    if not left.all():
        kept = np.concatenate([kept, _doubled_all_over(faces, order, place, kept)])
    return np.sort(kept)


def _first_rows(rows: Ints, place: Ints) -> Ints:
    """Return the first row of each place, which ascends."""
    first: Ints = rows[np.append(True, place[1:] != place[:-1])[: len(rows)]]
    return first


def _doubled_all_over(faces: Ints, order: Ints, place: Ints, kept: Ints) -> Ints:
    """Return the first of the triangles in each place of pieces of which nothing was kept."""
    piece = _pieces(faces)[1]
    lost = np.bincount(piece[kept], minlength=int(piece.max()) + 1)[piece[order]] == 0
    return _first_rows(order[lost], place[lost])


def _compact(vertices: Floats, faces: Ints) -> Mesh:
    used = np.zeros(len(vertices), dtype=bool)
    used[faces] = True
    return Mesh(vertices[used], (np.cumsum(used) - 1)[faces])


def chosen_faces(mesh: Mesh, chosen: Bools | Ints) -> Mesh:
    """Return a mesh of some of the faces, without the vertices that only others use."""
    return _compact(mesh.vertices, mesh.faces[chosen])


def clustered(mesh: Mesh, cell_mm: float) -> tuple[Mesh, Ints]:
    """Return a coarser mesh: the vertices of each cube of a grid become one, in their middle.

    What was closed stays closed: the two sides of every edge go the same way. Fine detail is lost,
    so this is for a first look only.

    Returns
    -------
    mesh : Mesh
    kept : ndarray, shape (k,)
        Numbers of the given faces that did not shrink to nothing, in order.
    """
    low, high = mesh.bounds
    size = np.ceil((high - low) / cell_mm).astype(np.int64) + 1
    i, j, k = np.floor((mesh.vertices - low) / cell_mm).astype(np.int64).T
    cube = (i * size[1] + j) * size[2] + k
    order = np.argsort(cube)
    new = np.append(True, cube[order][1:] != cube[order][:-1])
    number = np.zeros(len(cube), dtype=np.int64)
    number[order] = np.cumsum(new) - 1
    counts = np.bincount(number)
    middles = [np.bincount(number, mesh.vertices[:, axis]) / counts for axis in range(3)]
    faces = number[mesh.faces]
    a, b, c = faces.T
    kept = np.flatnonzero((a != b) & (b != c) & (c != a))
    return Mesh(np.column_stack(middles), faces[kept]), kept


def piece_of_faces(mesh: Mesh) -> tuple[int, Ints]:
    """Return how many pieces there are and the piece of each face (m,); a shared vertex joins."""
    return _pieces(mesh.faces)


def _pieces(faces: Ints) -> tuple[int, Ints]:
    count = int(faces.max(initial=-1)) + 1
    a, b, c = faces.T
    tails, heads = np.concatenate([a, b]), np.concatenate([b, c])
    graph = coo_matrix((np.ones(len(tails), dtype=np.int8), (tails, heads)), shape=(count, count))
    _, label = connected_components(graph, directed=False)
    names, piece = np.unique(label[a], return_inverse=True)
    return len(names), piece.astype(np.int64)


def handles(mesh: Mesh) -> int:
    """Return how many through-holes a closed mesh has, by Euler's formula.

    References
    ----------
    .. [1] V - E + F = 2 (pieces - handles) for closed orientable surfaces.
    """
    used = np.zeros(len(mesh.vertices), dtype=bool)
    used[mesh.faces] = True
    characteristic = int(np.count_nonzero(used)) - len(mesh.edges.uses) + len(mesh.faces)
    pieces, _ = piece_of_faces(mesh)
    return max(pieces - characteristic // 2, 0)


def without_flaps(mesh: Mesh) -> tuple[Mesh, Ints]:
    """Drop triangles that hang from an edge of three by one side and are loose on another.

    Such flaps are left where a scanner's patches overlap; they enclose nothing.

    Returns
    -------
    mesh : Mesh
    kept : ndarray, shape (k,)
        Numbers of the given faces, in order.
    """
    kept = np.arange(len(mesh.faces))
    while True:
        uses = mesh.edges.uses[mesh.edges.of_face]
        flap = (uses == 1).any(axis=1) & (uses > 2).any(axis=1)
        if not flap.any() or flap.all():
            return mesh, kept
        kept = kept[~flap]
        mesh = chosen_faces(mesh, ~flap)


def agreeing(mesh: Mesh) -> tuple[Mesh, int]:
    """Return the mesh with neighbours agreeing on which side is out, and how many were turned.

    Within a piece the majority, by count, stays as it is. Edges of more than two faces join none.
    """
    first, second, odd = _neighbours(mesh)
    if not odd.any():
        return mesh, 0
    count = len(mesh.faces)
    links = csr_matrix((1.0 + odd, (first, second)), shape=(count, count))
    links = links + links.T  # 1 for neighbours that agree, 2 for those that do not
    _, label = connected_components(links, directed=False)
    turned = np.zeros(count, dtype=bool)
    for piece in np.flatnonzero(np.bincount(label[first[odd]])):
        members = np.flatnonzero(label == piece)
        nodes, parent = breadth_first_order(links, int(members[0]), directed=False)
        turned[nodes] = _differs_from_root(nodes, parent, links)
        if 2 * np.count_nonzero(turned[members]) > len(members):
            turned[members] = ~turned[members]
    faces = np.where(turned[:, None], mesh.faces[:, ::-1], mesh.faces)
    return Mesh(mesh.vertices, faces), int(np.count_nonzero(turned))


def _neighbours(mesh: Mesh) -> tuple[Ints, Ints, Bools]:
    """Return pairs of faces that share an edge of two, and whether both walk it the same way."""
    edge = mesh.edges.of_face.ravel()
    order = np.argsort(edge, kind="stable")
    start = np.cumsum(mesh.edges.uses) - mesh.edges.uses
    pairs = mesh.edges.uses == 2
    first, second = order[start[pairs]], order[start[pairs] + 1]
    return first // 3, second // 3, mesh.edges.net[pairs] != 0


def _differs_from_root(nodes: Ints, parent: Ints, links: csr_matrix) -> Bools:
    """Return whether each node is turned against the root, in doubling strides."""
    rank = np.zeros(links.shape[0], dtype=np.int64)
    rank[nodes] = np.arange(len(nodes))
    up = np.append(0, rank[parent[nodes[1:]]])
    flip = np.append(False, np.asarray(links[nodes[1:], parent[nodes[1:]]]).ravel() == 2.0)
    while up.any():
        flip = flip ^ (flip[up] & (up != 0))
        up = up[up]
    bools: Bools = flip
    return bools

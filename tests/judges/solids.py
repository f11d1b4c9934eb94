"""What readers that are not ours say of a written file. Nothing here knows the add-on."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import lib3mf
import meshio
import numpy as np
import trimesh


@dataclass(frozen=True)
class Verdict:
    """One solid as a reader saw it; its edges are paired where it is closed."""

    name: str
    closed: bool
    volume_mm3: float
    low: tuple
    high: tuple


def verdict(name, vertices, faces):
    """Return what vertices (n, 3) and faces (m, 3) enclose, by places and not by numbers."""
    places, number = np.unique(np.asarray(vertices, float), axis=0, return_inverse=True)
    faces = number.reshape(-1)[np.asarray(faces)]
    edges = Counter(
        (int(a), int(b))
        for face in faces
        for a, b in zip(face, np.roll(face, -1), strict=True)
        if a != b
    )
    closed = all(edges[b, a] == times for (a, b), times in edges.items())
    a, b, c = (places[faces[:, k]] for k in range(3))
    # volume by tetrahedra from the origin: divergence theorem
    volume = float(np.linalg.det(np.stack([a, b, c], axis=1)).sum() / 6)
    return Verdict(name, closed, volume, tuple(places.min(axis=0)), tuple(places.max(axis=0)))


def by_lib3mf(path):
    """Return the unit, and a verdict of each thing built, from the 3MF Consortium's own reader.

    It is told to be strict: a package that the specification does not allow raises.
    """
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(StrictModeActive=True)
    reader.ReadFromFile(str(path))
    if reader.GetWarningCount():
        raise ValueError([reader.GetWarning(k)[-1] for k in range(reader.GetWarningCount())])
    found = []
    items = model.GetBuildItems()
    while items.MoveNext():
        item = items.GetCurrent()
        thing = model.GetMeshObjectByID(item.GetObjectResourceID())
        if not thing.IsManifoldAndOriented():
            raise ValueError(f"{thing.GetName()} is not manifold and oriented")
        points = np.array([list(one.Coordinates) for one in thing.GetVertices()])
        faces = np.array([list(one.Indices) for one in thing.GetTriangleIndices()])
        matrix = np.array([list(row) for row in item.GetObjectTransform().Fields])
        found.append(verdict(thing.GetName(), points @ matrix[:3] + matrix[3], faces))
    return model.GetUnit().name, found


def by_meshio(path):
    """Return a verdict from meshio."""
    mesh = meshio.read(path)
    return verdict(path.stem, mesh.points, mesh.cells_dict["triangle"])


def by_trimesh(path):
    """Return a verdict from trimesh; its own word on closedness and volume must agree."""
    mesh = trimesh.load_mesh(path)
    seen = verdict(path.stem, mesh.vertices, mesh.faces)
    if mesh.is_watertight != seen.closed or not np.isclose(mesh.volume, seen.volume_mm3):
        raise ValueError(f"trimesh says {mesh.is_watertight}, {mesh.volume}; counted {seen}")
    return seen

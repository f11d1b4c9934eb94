"""A layout as objects in one collection of the scene. The scan itself is never touched."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy

from ..core.case.stream import stream_of
from . import build, materials, names, scan_faces
from .lengths import mm_per_unit
from .place import beside, eye_direction, tipped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from mathutils import Matrix

    from ..core.desk.laid import Laid
    from ..core.geometry.mesh import Mesh
    from ..core.layout import Layout


def show(scene: bpy.types.Scene, scan: bpy.types.Object, laid: Laid) -> Matrix:
    """Put a layout into the scene, in place of the one that was there; return where it stands.

    The master stands in the case, and hangs beside it with its underside to the eye.

    Parameters
    ----------
    scene : bpy.types.Scene
    scan : bpy.types.Object
        Where it stands.
    laid : Laid
    """
    layout = laid.layout
    collection = _emptied_collection(scene, scan)
    eye, units_per_mm = eye_direction(layout), 1.0 / mm_per_unit(scene)
    place = beside(scene, scan, layout, eye)
    name = names.OBJECTS[names.MASTER_ROLE]
    picture = laid.picture
    master = build.new_mesh(name, picture.mesh, units_per_mm, flat=False, edges=picture.edges)
    build.mark_faces(master, picture)
    scan_faces.keep(master, picture)
    master[names.SCAN_MARK] = laid.scan_mark
    master[names.LEAST_RUBBER_MM] = layout.settings.case.least_rubber_mm
    for kind in (*names.CLASSES, *names.BANDS, names.BARRED):
        master.materials.append(materials.get(kind))
    add_object(collection, master, names.MASTER_ROLE, place)
    add_object(collection, master, names.MAP_ROLE, place @ tipped(scene, laid, eye))
    for role, name, mesh in _pieces(layout):
        data = build.new_mesh(name.title(), mesh, units_per_mm)
        data.materials.append(materials.get(materials.OF_ROLE[role]))
        thing = add_object(collection, data, role, place)
        if role not in names.OBJECTS:
            thing[names.PART] = name
    return place


def _emptied_collection(scene: bpy.types.Scene, scan: bpy.types.Object) -> bpy.types.Collection:
    """Return the collection for the layout at work, without what was in it, or a new one."""
    collection = own_collection(scene)
    if collection is not None and _is_shared(scene, collection):
        scene.collection.children.unlink(collection)  # a linked copy of the scene keeps its own
        collection = None
    if collection is None:
        other = any(names.OWN in one for one in scene.collection.children_recursive)
        name = f"{names.COLLECTION} {scan.name}" if other else names.COLLECTION
        collection = bpy.data.collections.new(name)
        collection[names.OWN] = "layout"
        scene.collection.children.link(collection)
    if scene.riseline.sculpt:
        collection[names.SCULPT] = scene.riseline.sculpt
    remove_objects(scene)
    return collection


def _is_shared(scene: bpy.types.Scene, collection: bpy.types.Collection) -> bool:
    others = (one for one in bpy.data.scenes if one != scene)
    return collection.name in scene.collection.children and any(
        collection in one.collection.children_recursive for one in others
    )


def _pieces(layout: Layout) -> Iterator[tuple[str, str, Mesh]]:
    """Yield role, name and mesh in the job frame of all but the master."""
    for part in layout.parts.parts:
        yield part.role, part.name, part.mesh.moved(part.to_assembly)
    yield names.STREAM_ROLE, names.OBJECTS[names.STREAM_ROLE], stream_of(layout.case)
    if len(layout.cut.ribbon.faces):
        yield names.SLIT_ROLE, names.OBJECTS[names.SLIT_ROLE], layout.cut.ribbon
    for web in layout.cut.webs:
        yield names.WEB_ROLE, names.OBJECTS[names.WEB_ROLE], web.sheet


def add_object(
    collection: bpy.types.Collection, data: bpy.types.Mesh, role: str, place: Matrix
) -> bpy.types.Object:
    """Add an object of ours with its role, and return it."""
    thing = bpy.data.objects.new(names.OBJECTS.get(role, data.name), data)
    thing[names.OWN] = role
    thing.matrix_world = place
    collection.objects.link(thing)
    return thing


def own_collection(scene: bpy.types.Scene) -> bpy.types.Collection | None:
    """Return the collection of the layout at work in a scene, or None while there is none.

    One without a mark is of an older version, that knew a single piece in a scene.
    """
    inside = [one for one in scene.collection.children_recursive if names.OWN in one]
    mine = scene.riseline.sculpt
    marked = (one for one in inside if one.get(names.SCULPT) == mine)
    return next(marked, next((one for one in inside if names.SCULPT not in one), None))


def own_objects(scene: bpy.types.Scene) -> list[bpy.types.Object]:
    """Return the objects of the layout in a scene."""
    collection = own_collection(scene)
    return [one for one in collection.objects if names.OWN in one] if collection else []


def remove_objects(scene: bpy.types.Scene) -> None:
    """Remove the objects of the layout and their meshes, and nothing that is not ours."""
    remove_roles(scene, frozenset(one[names.OWN] for one in own_objects(scene)))


def remove_roles(scene: bpy.types.Scene, roles: frozenset[str]) -> None:
    """Remove those objects of the layout that have one of some roles."""
    for thing in [one for one in own_objects(scene) if one[names.OWN] in roles]:
        data = thing.data
        bpy.data.objects.remove(thing)
        if not data.users:
            bpy.data.meshes.remove(data)


def remove(scene: bpy.types.Scene) -> None:
    """Remove the layout from a scene: objects, and collection and materials when left empty."""
    remove_objects(scene)
    collection = own_collection(scene)
    if collection and not collection.objects and not collection.children:
        bpy.data.collections.remove(collection)
    materials.remove_unused()

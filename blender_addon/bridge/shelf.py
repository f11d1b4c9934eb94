"""The tubes on the user's shelf: rows of the preferences, and the file that keeps them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy

from ..core.catalog.tube import Tube
from ..core.catalog.tube_csv import read_tube_csv, tube_csv_text
from ..core.constants.common import MM_PER_INCH
from ..core.errors import RiselineError
from . import user_files
from .properties import as_typed
from .user_files import TUBES

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

SIZES = (
    ("outer_diameter", "Outside", "Across the outside"),
    ("inner_diameter", "Inside", "Across the inside; measure both ways and take the smaller"),
    ("length", "Length Left", "How much of it is on the shelf; 0 when there is always enough"),
)


def own_preferences() -> Any:
    """Return the add-on's preferences, or None while Blender does not know it as an add-on."""
    addon = bpy.context.preferences.addons.get(user_files.PACKAGE)
    return addon.preferences if addon else None


def _in_inches() -> bool:
    own = own_preferences()
    return bool(own and own.inches)


def _size_property(name: str, label: str, tip: str) -> Any:
    def get(row: bpy.types.PropertyGroup) -> float:
        return getattr(row, f"{name}_mm") / (MM_PER_INCH if _in_inches() else 1.0)

    def put(row: bpy.types.PropertyGroup, value: float) -> None:
        setattr(row, f"{name}_mm", value * (MM_PER_INCH if _in_inches() else 1.0))

    return bpy.props.FloatProperty(
        name=label, description=tip, get=get, set=put, min=0.0, precision=2
    )


class Shelf:
    """What is known of the list beside its rows."""

    def __init__(self) -> None:
        self.trouble = ""
        self.filling = False


shelf = Shelf()
"""The one there is, until Blender is closed."""


def _changed(_row: bpy.types.PropertyGroup, _context: bpy.types.Context) -> None:
    own = own_preferences()
    if own and not shelf.filling:
        keep_or_tell(own.tubes)


def tube_row_group() -> type[bpy.types.PropertyGroup]:
    """Return a new property group class for one tube."""
    properties: dict[str, Any] = {
        f"{name}_mm": bpy.props.FloatProperty(update=_changed) for name, _, _ in SIZES
    }
    properties |= {name: _size_property(name, label, tip) for name, label, tip in SIZES}
    properties["name"] = bpy.props.StringProperty(name="Name", update=_changed)
    properties["material"] = bpy.props.StringProperty(
        name="Material", description="What it is made of, as you call it", update=_changed
    )
    properties["price_per_m"] = bpy.props.FloatProperty(
        name="Price per Meter",
        description="In your own money; 0 when it is not known",
        min=0.0,
        precision=2,
        update=_changed,
    )
    bases = (bpy.types.PropertyGroup,)
    return type("RISELINE_PG_tube", bases, {"__annotations__": properties})


def fault_of(rows: Sequence[bpy.types.PropertyGroup], place: int) -> str:
    """Return why a row is no tube, in words; nothing when it is one."""
    row = rows[place]
    if not row.name.strip():
        return "Give it a name"
    if row.name.strip() in {other.name.strip() for other in rows[:place]}:
        return "Another tube has this name already"
    if row.inner_diameter_mm <= 0.0 or row.outer_diameter_mm <= 0.0:
        return "Give its diameters, outside and inside"
    if row.inner_diameter_mm >= row.outer_diameter_mm:
        return "It must be narrower inside than outside"
    return ""


def tubes_in(rows: Sequence[bpy.types.PropertyGroup]) -> tuple[Tube, ...]:
    """Return the rows that are tubes."""
    good = [row for place, row in enumerate(rows) if not fault_of(rows, place)]
    return tuple(
        Tube(
            name=row.name.strip(),
            inner_diameter_mm=(inner := as_typed(row.inner_diameter_mm)),
            wall_mm=as_typed((as_typed(row.outer_diameter_mm) - inner) / 2.0),
            least_inner_diameter_mm=inner,
            material=row.material.strip(),
            length_mm=as_typed(row.length_mm),
            price_per_m=as_typed(row.price_per_m),
        )
        for row in good
    )


def keep(rows: Sequence[bpy.types.PropertyGroup]) -> None:
    """Write the rows that are tubes into the user's folder.

    Raises
    ------
    UnwritableFileError
        If the system refuses.
    """
    tubes = tubes_in(rows)
    if tubes:
        user_files.write(TUBES, tube_csv_text(tubes))
    else:
        user_files.forget(TUBES)
    for scene in bpy.data.scenes:
        scene.riseline.results.restocked = True


def keep_or_tell(rows: Sequence[bpy.types.PropertyGroup]) -> None:
    """Keep the rows; what goes wrong is told beside them."""
    try:
        keep(rows)
        shelf.trouble = ""
    except RiselineError as error:
        shelf.trouble = str(error)


def fill(rows: Any, tubes: Iterable[Tube]) -> None:
    """Put tubes into the rows in place of those there, without keeping them."""
    shelf.filling = True
    try:
        rows.clear()
        for tube in tubes:
            row = rows.add()
            row.name, row.material = tube.name, tube.material
            row.outer_diameter_mm = tube.outer_diameter_mm
            row.inner_diameter_mm = tube.inner_diameter_mm
            row.length_mm, row.price_per_m = tube.length_mm, tube.price_per_m
    finally:
        shelf.filling = False


def kept_tubes() -> tuple[Tube, ...]:
    """Return the tubes in the user's folder; none when no list is kept.

    Raises
    ------
    UnreadableFileError
        If the list was spoiled from outside.
    """
    path = user_files.path_of(TUBES)
    return read_tube_csv(path) if path.exists() else ()


def bring_in() -> None:
    """Show the kept tubes in the preferences; a list that cannot be read is told there."""
    own = own_preferences()
    if own is None:
        return
    try:
        fill(own.tubes, kept_tubes())
        shelf.trouble = ""
    except RiselineError as error:
        shelf.trouble = str(error)

"""The numbers of a layout as they are stored in the scene, for panels to draw.

Stored numbers follow undo and redo and are saved with the file; the layout itself is not.
"""

from __future__ import annotations

import json
from operator import attrgetter
from typing import TYPE_CHECKING, Any

import bpy

from ..core.settings import as_tables
from . import coating, leans, notices, pockets, reading, stretching
from .both_units import put, text_properties

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from ..core.layout import Layout

NUMBERS = (
    "scan.volume_ml", "scan.area_cm2", "scan.scale",
    "bubbles.trapped_ml", "bubbles.bound_ml", "bubbles.pitch_mm", "bubbles.clinging_area_cm2",
    "bubbles.narrow_area_cm2", "bubbles.prebrush_area_cm2", "bubbles.prebrush_g",
    "bubbles.doubt.most_ml", "bubbles.lean.degrees", "bubbles.lean.trapped_ml",
    "case.inner_diameter_mm", "case.wall_mm", "case.height_mm", "case.level_z_mm",
    "case.least_rubber_mm", "case.channel_mm",
    "funnel.throat_mm", "funnel.throat_area_cm2", "funnel.bowl_mm", "funnel.height_mm",
    "funnel.bowl_ml",
    "cut.slit_length_mm", "cut.needed_stretch", "cut.allowed_stretch", "cut.tooth_mm",
    "cut.wave_mm", "cut.start_deg",
    "rubber.volume_ml", "rubber.mix_ml", "rubber.mass_g", "rubber.pour_s", "rubber.pot_life_s",
    "rubber.forces.floor_pressure_kpa", "rubber.forces.base_push_n",
    "rubber.forces.seam_pull_n", "rubber.forces.uplift_n",
    "rubber.budget.mix_s", "rubber.budget.degas_s", "rubber.budget.pour_s",
    "rubber.budget.needs_s", "rubber.block.across_mm", "rubber.block.high_mm",
    "rubber.block.rubber_g", "rubber.block.lift_g", "rubber.vessel_ml", "rubber.growth",
    "rubber.chunks_ml", "rubber.chunks_most_g",
    "resin.copy_ml", "resin.copy_g", "resin.shell_ml", "resin.shell_g", "resin.hollow_ml",
    "resin.needs_g", "resin.true_base_mm_below_rim", "resin.sanded_ml", "resin.sanded_g",
    "resin.opening.across_mm", "resin.opening.plug_ml", "resin.opening.plug_g",
    "resin.heat.most_c", "resin.heat.deepest_mm", "resin.heat.limit_mm", "resin.heat.cools_s",
    "resin.sculpt.times",
)  # fmt: skip
COUNTS = (
    "scan.triangles", "scan.open_edges", "scan.pieces", "scan.through_holes",
    "bubbles.doubt.columns",
)  # fmt: skip
MAYBE = (
    "cut.pull.force_n", "cut.pull.stretch", "cut.pull.thickness_mm", "cut.pull.suction_n",
    "cut.pull.least_n", "cut.pull.most_n",
    "cut.lips.length_mm", "cut.lips.stretch", "cut.lips.alone_mm", "cut.lips.girth_mm",
    "rubber.coat.a_g", "rubber.coat.b_g", "rubber.cost", "resin.cost",
    "resin.sculpt.height_mm", "resin.sculpt.width_mm", "resin.sculpt.opening_mm",
)  # fmt: skip
"""Numbers that a layout may not have: 0 then."""
SENTENCES = ("case.name", "parts.hold.shopping", "parts.hold.bears", "resin.fills_because")
"""Texts that may hold lengths."""
TEXTS = (
    "scan.up", "case.kind", "cut.kind", "cut.pull.word",
    "rubber.budget.fits",
)  # fmt: skip
SIZES = ("scan.size_mm", "case.least_rubber_at_mm")
ROWS = {
    "choices": (
        "cases",
        (
            "rubber_ml",
            "mass_g",
            "cost",
            "channel_mm",
            "least_rubber_mm",
            "height_mm",
            "taken",
            "saved_g",
        ),
        ("name", "kind"),
    ),
    "holds": ("rubber.holding.lines", (), ("text",)),
    "ways": ("bubbles.ways", ("trapped_ml",), ("up",)),
    "depths": ("cut.depths", ("z_mm", "depth_mm"), ("side",)),
    "cut_ways": (
        "cut.ways",
        ("length_mm", "area_cm2", "stretch", "undercut_ml", "towards_deg"),
        ("kind",),
    ),
    "cut_classes": ("cut.classes", ("slit_to_mm", "force_n"), ("name", "word")),
    "webs": ("cut.webs", ("area_cm2", "width_mm", "length_mm"), ()),
    "batches": ("rubber.batches", ("a_g", "b_g", "cup_ml"), ()),
    "fills": ("resin.fills", ("to_mm_below_rim", "ml", "g", "deep_mm", "a_g", "b_g"), ()),
    "coats": ("resin.coats", ("a_g", "b_g", "cup_ml"), ()),
    "pots": ("rubber.pots", ("used_kpa", "rated_kpa", "bubble_share"), ("name", "kind", "fits")),
    "shrinks": ("resin.shrinkage", ("by_clay",), ("name",)),
    "templates": ("sheet.templates", (), ("title",)),
    "parts": (
        "parts.parts",
        ("volume_ml", "wide_mm", "deep_mm", "tall_mm", "over_bed_mm"),
        ("name", "role", "lies"),
    ),
    "changes": ("scan.changes", (), ("text",)),
}
"""Lists: where they are in the layout, the numbers and the texts of each row."""

PLACED = ("webs",)
"""Lists whose rows have a place, ``at_mm`` in the job's frame, that can be shown."""

ROWS_STORED = 40
"""A panel that is longer than this is read by nobody; everything stands in the job file."""


def property_name(path: str) -> str:
    """Return the property that stores what is at a path: `scan_volume_ml` for `scan.volume_ml`."""
    return path.replace(".", "_")


def row_groups() -> dict[str, type[bpy.types.PropertyGroup]]:
    """Return a new property group class for the rows of each list."""
    plain = {
        name: _group(
            f"row_{name}",
            dict.fromkeys(numbers, _number()) | text_properties(texts) | _place(name),
        )
        for name, (_, numbers, texts) in ROWS.items()
    }
    special = {"pockets": pockets, "leans": leans, "warnings": notices}
    return {name: rows.row_group() for name, rows in special.items()} | plain


def results_group(
    rows: dict[str, type[bpy.types.PropertyGroup]],
    on_pocket: Callable[[bpy.types.Context], None],
    on_lean: Callable[[bpy.types.Context], None],
) -> type[bpy.types.PropertyGroup]:
    """Return a new property group class for all results.

    Parameters
    ----------
    rows : dict of property group classes
        Of the lists, to be registered before.
    on_pocket : callable
        Called with the context when a pocket is chosen in its list.
    on_lean : callable
        The same for a lean.
    """
    properties: dict[str, Any] = {
        name: _text()
        for name in ("token", "source", "used_settings", "parts_at", "sheets_at", "scan_mark")
    }
    properties |= {property_name(path): _number() for path in NUMBERS + MAYBE}
    properties |= {property_name(path): bpy.props.IntProperty() for path in COUNTS}
    properties |= {property_name(path): _text() for path in TEXTS}
    properties |= text_properties(map(property_name, SENTENCES))
    properties |= {property_name(path): bpy.props.FloatVectorProperty(size=3) for path in SIZES}
    properties |= {name: bpy.props.CollectionProperty(type=group) for name, group in rows.items()}
    properties |= reading.result_properties() | coating.result_properties()
    properties["lean_hour"] = bpy.props.IntProperty()
    properties["repainted"] = bpy.props.BoolProperty()
    properties["remarked"] = bpy.props.BoolProperty()
    properties["stretch_curve"] = _text()
    properties["restocked"] = bpy.props.BoolProperty()
    shown = ("level_mm", "poured_ml", "lean_deg", "towards_deg", "trapped_ml")
    properties |= {f"shown_{name}": _number() for name in shown}
    properties["shown_lean_hour"] = bpy.props.IntProperty(default=12)
    properties["lean_row"] = bpy.props.IntProperty(
        name="Lean",
        description="Click to lean the case so in the view, and pour into it",
        default=-1,
        min=-1,
        options={"SKIP_SAVE"},
        update=lambda _results, context: on_lean(context),
    )
    properties["pocket_row"] = bpy.props.IntProperty(
        name="Pocket",
        description="Click to look at this pocket of the brush map from below",
        default=-1,
        min=-1,
        options={"SKIP_SAVE"},
        update=lambda _results, context: on_pocket(context),
    )
    return _group("results", properties)


def _group(name: str, properties: dict[str, Any]) -> type[bpy.types.PropertyGroup]:
    bases = (bpy.types.PropertyGroup,)
    return type(f"RISELINE_PG_{name}", bases, {"__annotations__": properties})


def _place(name: str) -> dict[str, Any]:
    return {"at_mm": bpy.props.FloatVectorProperty(size=3)} if name in PLACED else {}


def _number() -> Any:
    return bpy.props.FloatProperty()


def _text() -> Any:
    return bpy.props.StringProperty()


def store(stored: bpy.types.PropertyGroup, layout: Layout, source: str, token: str) -> None:
    """Write a layout's numbers into the scene's results, in place of those of last time."""
    ticked = pockets.ticks(stored.pockets)
    clear(stored)
    for path in NUMBERS + COUNTS + SIZES:
        setattr(stored, property_name(path), attrgetter(path)(layout))
    for path in TEXTS + SENTENCES:
        put(stored, property_name(path), _found(layout, path) or "")
    for path in MAYBE:
        setattr(stored, property_name(path), _found(layout, path) or 0.0)
    for name, (path, numbers, texts) in ROWS.items():
        keys = (*numbers, *texts, *(("at_mm",) if name in PLACED else ()))
        store_rows(getattr(stored, name), attrgetter(path)(layout), keys)
    pockets.store(stored.pockets, layout, ticked)
    leans.store(stored.leans, layout)
    notices.store(stored.warnings, layout)
    stored.stretch_curve = stretching.curve_text(layout.cut)
    stored.lean_hour = leans.hour_of(layout, layout.bubbles.lean)
    stored.used_settings = json.dumps(as_tables(layout.settings))
    stored.source, stored.token = source, token


def _found(layout: Layout, path: str) -> Any:
    found: Any = layout
    for name in path.split("."):
        found = None if found is None else getattr(found, name)
    return found


def clear(stored: bpy.types.PropertyGroup) -> None:
    """Forget the results."""
    for name in [one.identifier for one in stored.bl_rna.properties]:
        if name not in {"rna_type", "name"}:
            stored.property_unset(name)


def store_rows(rows: Any, items: Iterable[Any], keys: tuple[str, ...]) -> None:
    """Write what rows of a layout tell into empty rows."""
    for item in list(items)[:ROWS_STORED]:
        row = rows.add()
        for key in keys:
            value = item if isinstance(item, str) else getattr(item, key)
            if isinstance(value, str):
                put(row, key, value)
            else:
                setattr(row, key, value)

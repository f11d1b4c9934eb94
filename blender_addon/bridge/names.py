"""Names of what the add-on puts into a scene, each written once."""

from ..core.pictures.classes import CLASS_COLORS, THICKNESS_COLORS

COLLECTION = "Riseline"

OWN = "riseline_role"
"""Custom property that marks a collection, an object or a material as ours, by its role."""

SCULPT = "riseline_sculpt"
"""Custom property of a layout's collection: the piece that it belongs to."""

MASTER_ROLE = "master"
MAP_ROLE = "brush map"
SLIT_ROLE = "slit"
WEB_ROLE = "web"
STREAM_ROLE = "stream"
RUBBER_ROLE = "rubber"
AIR_ROLE = "trapped air"
BED_ROLE = "print bed"
CUTS = (SLIT_ROLE, WEB_ROLE)
"""What the knife follows."""

MAPS = (MAP_ROLE, MASTER_ROLE)
"""The objects that show the brush map; both have the same mesh."""

OBJECTS = {
    MASTER_ROLE: "Master",
    MAP_ROLE: "Brush Map",
    SLIT_ROLE: "Slit",
    WEB_ROLE: "Web to Cut",
    STREAM_ROLE: "Stream",
    RUBBER_ROLE: "Rubber",
    AIR_ROLE: "Trapped Air",
    BED_ROLE: "Print Bed",
}
"""Names of the objects that are no parts; parts keep the names that they are exported by."""

PART = "riseline_part"
"""Custom property of a part's object: the name that it is exported by."""

TRAPPED = "riseline_trapped"
CLINGING = "riseline_clinging"
NARROW = "riseline_narrow"
PREBRUSH = "riseline_prebrush"
TRAPPED_DEPTH_MM = "riseline_trapped_depth_mm"
"""Attributes on the faces of the brush map: four yes or no, one number."""

COMPUTED = "riseline_computed"
PAINT = "riseline_paint"
SOURCE_FACE = "riseline_source_face"
"""More of them: what is to be brushed before the maker's paint, that paint, and the triangle of the
scan that the face is, or the first of those that it stands for, -1 where it was added."""

STANDS = "riseline_stands"
SCAN_PAINT = "riseline_scan_paint"
SCAN_NOT_HERE = "riseline_scan_not_here"
"""Custom properties of the map's mesh where its faces stand for several triangles of the scan each:
which, and the maker's paint and marks on all of those when it was made, packed."""

REPAINTED = "riseline_repainted"
REMARKED = "riseline_remarked"
"""More attributes of such a map: faces that were painted or marked since then."""

ON_BEDS = "beds"
"""Of the scene's choice where parts are shown: as they lie on the printer."""

NOT_HERE = "riseline_not_here"
"""One more: faces that no cut may cross."""

BARRED = "Not Here"
"""The material that shows them, in the slot after all others."""

SCAN_MARK = "riseline_scan"
"""Custom property of the map's mesh: which scan its faces are counted by."""

POURED_ML = "riseline_poured_ml"
CLOSES_AT_MM = "riseline_closes_at_mm"
"""Custom properties: of the rubber, what is poured at equal steps of height; of trapped air, the
height of the rubber at which it is shut in."""

FULL_MM = "riseline_full_mm"
OUTLINE_MM = "riseline_outline_mm"
RIM_MM = "riseline_rim_mm"
"""More of the rubber's: its full height, its outline in plan (x, y, x, y ...), the case's rim."""

CLASSES = tuple(CLASS_COLORS)
"""Material slots of the brush map, the gravest last: a face shows its gravest class."""

RUBBER_MM = "riseline_rubber_mm"
"""One more attribute: how far the case is from the face."""

LEAST_RUBBER_MM = "riseline_least_rubber_mm"
"""Custom property of the map's mesh: the least rubber that was asked for."""

BANDS = tuple(THICKNESS_COLORS)
"""Material slots after those of the classes: the rubber's thickness, thin to thick."""

MATERIAL = "material_index"
"""Blender's own name of the attribute that holds the material slot of each face."""

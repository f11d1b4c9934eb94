"""Names of what the add-on puts into a scene, each written once."""

COLLECTION = "Riseline"

OWN = "riseline_role"
"""Custom property that marks a collection, an object or a material as ours, by its role."""

MASTER_ROLE = "master"
MAP_ROLE = "brush map"
SLIT_ROLE = "slit"

OBJECTS = {
    MASTER_ROLE: "Master",
    MAP_ROLE: "Brush Map",
    SLIT_ROLE: "Slit",
}
"""Names of the objects that are no parts; parts keep the names that they are exported by."""

TRAPPED = "riseline_trapped"
CLINGING = "riseline_clinging"
NARROW = "riseline_narrow"
PREBRUSH = "riseline_prebrush"
TRAPPED_DEPTH_MM = "riseline_trapped_depth_mm"
"""Attributes on the faces of the brush map: four yes or no, one number."""

CLASSES = ("Plain", "Brush Margin", "Narrow", "Clinging", "Trapped Air")
"""Material slots of the brush map, the gravest last: a face shows its gravest class."""

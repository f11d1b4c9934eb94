"""Names that Blender knows our operators, panels, lists and menus by, each written once."""

LAY_OUT = "riseline.lay_out"
EXPORT_PARTS = "riseline.export_parts"
IMPORT_SCAN = "riseline.import_scan"
REMOVE_LAYOUT = "riseline.remove_layout"
ADD_TO_MAP = "riseline.add_to_map"
TAKE_OFF_MAP = "riseline.take_off_map"
CLEAR_PAINT = "riseline.clear_paint"
PAINTING = (ADD_TO_MAP, TAKE_OFF_MAP, CLEAR_PAINT)
SHOW_MILLIMETERS = "riseline.show_millimeters"
SHOW_PLACE = "riseline.show_place"
OPEN_HELP = "riseline.open_help"
RESET_STAGE = "riseline.reset_stage"

MENU = "RISELINE_MT_mold"
POCKETS = "RISELINE_UL_pockets"
TAB = "Riseline"
COMMAND = "riseline"

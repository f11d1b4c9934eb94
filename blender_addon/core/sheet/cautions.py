"""The usual cautions, each beside the work that it concerns. Common practice, no source."""

ALWAYS = (
    "Estimates for planning only. Follow the product safety data sheet, the equipment's rated "
    "limits and your local codes."
)
MATERIALS = (
    "Read the safety data sheet first. Work with good ventilation. Wear chemical gloves and eye "
    "protection. Keep food away."
)
POLYURETHANE = (
    "Polyurethane contains isocyanates, which can cause asthma and skin allergy. Never heat or "
    "spray it. Stop if breathing is affected."
)
POLYURETHANE_RUBBER = (
    "Water in clay, plaster or wood makes polyurethane rubber foam: seal the master and let it "
    "dry. It sticks to what has no release agent. Test a hidden spot first."
)
EPOXY = (
    "Epoxy and its hardener burn skin and can cause skin allergy for good. Wear gloves that its "
    "data sheet names, and mix no more than it allows at a time."
)
POLYESTER = (
    "Polyester gives off styrene: moving fresh air or a fitted respirator, no flame. Its hardener, "
    "a peroxide, burns eyes and must touch no accelerator by itself."
)
SILICONE = (
    "Sulfur clay, some 3D-print resins, tin-cure residue and latex can stop addition-cure silicone "
    "from setting. Test a hidden spot first."
)
RESIN = (
    "Mixed resin heats up, more in thick pours. Pour in stages, do not cover a hot cup, keep it "
    "off anything that burns."
)
VACUUM = (
    "A vacuum chamber can collapse. Use a chamber made for vacuum, inspect it for cracks, wear eye "
    "protection, never use glass jars."
)
PRESSURE = (
    "Never exceed the rated pressure of a pot. Use its relief valve and gauge. Release all "
    "pressure before opening clamps. Do not modify the vessel."
)
WAX = (
    "Hot wax burns skin and can ignite. Melt it in a water bath with a thermometer, never over a "
    "flame or unattended."
)
CUTTING = (
    "Cut away from your hand and body. Sharp blade, cut-resistant glove on the holding hand, mold "
    "held on the table."
)
SANDING = (
    "Sanding dust harms lungs. Wet-sand or extract, and wear a fitted respirator. Clay and fillers "
    "can hold crystalline silica."
)
SAWING = "Clamp the tube. Eye protection. Remove burrs. Plastic chips are sharp."

OF_RUBBER = {
    "silicone": (SILICONE,),
    "polyurethane": (POLYURETHANE, POLYURETHANE_RUBBER),
}
"""By class of the rubber. What keeps a rubber from setting matters for its own class only."""

OF_RESIN = {
    "fast polyurethane": (POLYURETHANE,),
    "slow polyurethane": (POLYURETHANE,),
    "epoxy": (EPOXY,),
    "polyester": (POLYESTER,),
}
"""By class of the resin."""

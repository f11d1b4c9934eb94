"""How much resin the copy takes, shell and back-fill."""

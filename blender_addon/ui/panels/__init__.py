"""The sidebar, a panel a stage, in the order of the work. Panels draw what is stored."""

"""The scripts here are run by Blender; pytest must not import them when it looks for doctests."""

collect_ignore = ["workday.py", "without_window.py"]

"""The scripts here are run by Blender; pytest must not import them when it looks for doctests."""

collect_ignore = [
    "coming.py",
    "disturbed.py",
    "drop.py",
    "first_piece.py",
    "quitting.py",
    "steps.py",
    "without_window.py",
    "workday.py",
]

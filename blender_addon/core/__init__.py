"""The whole computation, without Blender: read ``pipeline`` first."""

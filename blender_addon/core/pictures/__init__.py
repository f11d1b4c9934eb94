"""Pictures of the brush map without Blender: orthographic views with marks, as SVG."""

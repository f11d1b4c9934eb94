"""Between Blender's data and core's arrays: no operators, no sentences, no maths of the craft."""

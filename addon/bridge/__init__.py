"""The only door between Blender and the solver: briefs in, results out as objects."""

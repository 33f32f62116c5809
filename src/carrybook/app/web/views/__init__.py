"""Frozen values for templates: texts that are ready to read, paths that are ready to draw."""

"""Colours for scripts in editors and printed pages."""

"""Sockscript: a plain-text language for sock patterns on a double-bed knitting machine."""

__version__ = "0.1.0"

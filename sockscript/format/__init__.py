"""The one layout of scripts."""

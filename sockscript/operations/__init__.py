"""The primitive operations and the numbering of needles."""

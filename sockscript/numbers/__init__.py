"""Numbers with units."""

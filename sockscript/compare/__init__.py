"""What differs between two patterns, told from what is knitted."""

"""What is in a folder of scripts: read once, kept in an index, found by what a knitter asks."""

"""From lines of text to the tree of a script."""

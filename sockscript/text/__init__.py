"""Reading text: files, lines, the parser."""

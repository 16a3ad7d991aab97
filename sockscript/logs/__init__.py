"""Knitting logs that test knitters send back: read, compared with the pattern, and told."""

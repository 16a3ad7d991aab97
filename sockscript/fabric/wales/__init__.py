"""The columns of cloth on the needles, followed through every hand operation."""

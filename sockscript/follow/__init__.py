"""The page to knit from: one self-contained file for a tablet beside the machine."""

"""From what happened in the runs to what the author should know."""

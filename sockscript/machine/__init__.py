"""Machine profiles."""

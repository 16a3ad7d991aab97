"""Arithmetic of feet, yarn and time; it knows nothing of scripts or machines."""

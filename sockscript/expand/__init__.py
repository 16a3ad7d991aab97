"""Performing a script on the simulator, for one size and one set of choices."""

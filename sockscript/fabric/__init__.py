"""The knitted fabric as it came out of a run: measurements, yarn, work."""

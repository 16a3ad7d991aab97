"""Pictures of the machine and the fabric, drawn from the simulated knitting as SVG."""

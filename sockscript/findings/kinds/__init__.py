"""Findings that the simulator and the performing of a line tell, by family.

Their names are listed in ``trace.faults`` too, since faults are made there.
"""

"""Protection: fuse curves, currents of shorts and of inrush, and whether a fuse opens before a wire is damaged.

A solved network, a fuse and a wire come in; opening times, withstand times and the margin go out. Which wires each fuse
protects is not decided here, but in `rules/protection`.
"""

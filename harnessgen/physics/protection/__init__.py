"""Protection: fuse curves, currents of shorts and of inrush, and whether each fuse opens before a wire downstream of
it is damaged.

A solved network comes in; for each fuse and each wire downstream of it opening times, withstand times and the margin
go out.
"""

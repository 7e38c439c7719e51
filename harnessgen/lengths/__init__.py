"""Lengths and sizes of the harness: the length that each wire needs, the length that is available, and the
uncertainty of both.

A network comes in; lengths in mm go out, each with the terms that it is the sum of. Nothing here knows of current.
Its rooms: `bundles` (diameters), then this folder, then `too_short` (what to do where a length does not suffice).
"""

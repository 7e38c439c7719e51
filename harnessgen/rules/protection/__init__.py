"""Rules on fuses: too large, too small, too slow, missing, or unable to break a short.

Fuses with the wires downstream of them come in; findings go out, each at the fuse or the wire that is to blame.
"""

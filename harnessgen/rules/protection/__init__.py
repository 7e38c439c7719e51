"""Rules on fuses: too large, too small, too slow, missing, or unable to break a short.

The physics of a network comes in; which wires each fuse protects is worked out here (`fused`, `guards`), for charts,
explanations and the fault simulation too. Findings go out, each at the fuse or the wire that is to blame.
"""

"""Simulation of faults: the harness with each fault in it, unpowered and powered, and what an instrument reads.

A setup and faults come in; readings with their bounds go out, after relays have settled and fuses have opened.
"""

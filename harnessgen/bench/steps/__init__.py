"""The steps of a procedure, phase by phase: visual inspection, continuity, loaded drop, feeds, outputs, and the test
lamp.

The harness as it is set up for a phase comes in; blocks of steps go out with the reading to expect, from the
solution.
"""

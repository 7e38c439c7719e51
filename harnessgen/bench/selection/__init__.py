"""The choice of steps: the least effort that detects every fault which any step can detect, as a set cover.

Sets of detected faults and the effort of each step come in; the chosen steps go out, with a proof where none can be
cheaper.
"""

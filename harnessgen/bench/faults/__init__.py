"""The faults that a harness can have: opens, shorts, swaps, poor joints, and faults that only the eye detects.

A network and its geometry come in; every fault goes out, with what it changes in the network and what it leads to.
"""

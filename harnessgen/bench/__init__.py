"""The test bench: which steps test a finished harness, what each should read, and which faults they detect.

The physics of a network comes in; procedures go out, with coverage from simulating every fault under every step.
Its rooms: `setup` < `faults` < `simulation` < `steps` < `detection`, `selection`; this folder joins them.
"""

"""Detection: which step detects which fault, decided by comparing the simulated reading with the band of the step.

Blocks of steps and all faults come in; for each step the set of faults that it detects goes out.
"""

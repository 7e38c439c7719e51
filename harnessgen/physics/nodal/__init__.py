"""The nodal solver for resistive networks: assembled and factorised once, then solved for sources and for changed
elements.

Arrays of elements between numbered nodes come in; node voltages in V and element currents in A go out. It knows
nothing of harnesses.
"""

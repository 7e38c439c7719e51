"""Fixes that are offered only after the changed design has been run and found good.

A design as text and the findings on it come in; changed text goes out. Its rooms: `sizing` (smallest wires) and
`placing` (splices and breakouts).
"""

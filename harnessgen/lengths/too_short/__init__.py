"""Wires that are too short: how probable it is, and which remedies make them reach.

Needed and available lengths with their uncertainty come in; a probability goes out, and remedies that were computed
on the changed design.
"""

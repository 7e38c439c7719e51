"""Schedules of wires and their ends: cut list, re-cut list, splices, cavities, crimps and the cutting plan.

Wires with their lengths come in; one row for each wire, end, joint or cavity goes out.
"""

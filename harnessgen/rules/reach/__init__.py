"""Rules on length: wires and finished stretches that are too short, tight or slack, and sections that cannot be
lifted away.

Needed and stated lengths come in; findings go out, each with the lengths in mm that decide.
"""

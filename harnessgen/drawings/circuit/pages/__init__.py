"""The sheets of a circuit drawing: what is on which sheet, the marks on it, references from sheet to sheet and the
index.

Placed blocks and strands come in; the marks of each sheet go out.
"""

"""The formboard at 1:1: each section as it lies on the board, with pegs, splices, fixings and the sheets that it is
cut into.

Sections with their true lengths come in; marks of the board go out, whole and sheet by sheet.
"""

"""Sheets of paper: marks in millimetres, lettering, title block, outlines of marks, and the SVG writer.

Marks come in; a sheet goes out that is held to the table of what may meet, and its SVG text.
"""

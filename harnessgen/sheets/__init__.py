"""Sheets of paper: marks in millimetres, lettering, title block, outlines of marks, the SVG writer and PNG previews.

Marks come in; a sheet goes out, its SVG text, and on request its picture.
"""

"""Sheets of paper: marks in millimetres, lettering, title block, clearance and the writers that turn marks into SVG."""

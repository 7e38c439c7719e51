"""Documents: what was computed and drawn, written as text, data, pages, paper and CAD files.

Typed rows, findings and sheets come in; texts and bytes go out, the same each time. Nothing is computed here and
nothing is written to disk.
"""

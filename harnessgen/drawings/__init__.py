"""Drawings of the trade, made of marks in millimetres: circuit, layout, formboard and charts.

A network with its solution comes in; sheets of marks go out, which writers turn into SVG, PDF and DXF.
Its rooms: `symbols` < `circuit`; `symbols` < `layout` < `formboard`; `charts`.
"""

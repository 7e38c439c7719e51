"""Where each column, joint and block of a circuit drawing is: layers, order of columns, distances and levels.

Strands and blocks come in; places in millimetres go out, so that no text meets a neighbour.
"""

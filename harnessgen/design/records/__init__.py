"""The records of a design file, one module for each kind of thing: devices, connectors, circuits, banks, cables, the
route, states, stock.

Declared keys come in, each with type, unit and one line of meaning; typed records go out that remember their place in
the file.
"""

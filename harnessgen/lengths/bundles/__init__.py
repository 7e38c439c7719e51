"""Bundles: diameter of the wires in each stretch, lay-up, bend radius, grommets, and what has to be slid on before an
end is finished.

Wires of a network and the coverings of its stretches come in; diameters and radii in mm, masses and orders of
assembly go out.
"""

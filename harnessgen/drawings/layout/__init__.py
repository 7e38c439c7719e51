"""The layout drawing: the route of each section with its breakouts, dimensions, splices, coverings and connector
faces.

Sections of a network with their lengths come in; sheets go out, to scale where paper allows.
"""

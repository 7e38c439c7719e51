"""Rules on bundles: room in coverings and panel holes, bend radius, grommets and the distance between clips.

Bundles of a network come in; findings go out, each at the stretch, the covering or the grommet that is to blame.
"""

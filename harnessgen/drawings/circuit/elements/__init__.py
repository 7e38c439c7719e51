"""What a circuit drawing is made of: strands between junctions, and the blocks with the symbols on them.

A network comes in; strands and blocks go out, each block drawn around its own top end and not yet placed.
"""

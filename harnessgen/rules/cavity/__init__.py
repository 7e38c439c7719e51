"""Rules on what is in the cavities of connectors: wires, terminals, seals, and cavities left without a wire.

A network comes in; findings go out, each at the cavity or the wire that is to blame.
"""

"""Rules on what is in cavities, splices and on tabs: wires, terminals, seals, and cavities left without a wire.

A network comes in; findings go out, each at the cavity, the splice or the wire that is to blame.
"""

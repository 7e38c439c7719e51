"""What the network does: currents, voltages, temperatures and the protection of wires, each figure with its
derivation.

A network comes in; `Physics` takes its lengths and computes each part when it is first asked for.
Its rooms: `nodal` < `partitioned` < `electrical` < `loads` < `states` < `heat` < `physics.py` < `protection`.
"""

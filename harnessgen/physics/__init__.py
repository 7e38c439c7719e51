"""What the network does: currents, voltages, temperatures and the protection of wires, each figure with its
derivation.

A network and its lengths come in; `Physics` computes each part when it is first asked for.
Its rooms: `nodal` < `partitioned` < `electrical` < `loads` < `states` < `heat` < `protection`.
"""

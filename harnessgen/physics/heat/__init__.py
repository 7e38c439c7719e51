"""Heat: the temperature of wires, bundles and contacts, and the current that a wire may carry.

Currents of every state and what surrounds each stretch come in; temperatures in degC and allowed currents in A go
out, by heat balance or by a published table.
"""

"""Data for other programs: JSON, SARIF, CSV, the JSON Schema of a design and a SPICE netlist of a state.

Records and tables come in; texts go out whose keys and columns do not change.
"""

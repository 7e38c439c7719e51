"""The electrical solution: resistance of every element, what conducts, and the operating point with the relays
settled.

A network and the conditions of one case come in; the voltage of every node and the current of every element go out.
"""

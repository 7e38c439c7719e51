"""What a design means: the route as a forest, the cut wires, and the electrical graph.

A `Design` comes in; a `Network` goes out, with findings on wires that have no route. No length and no current is
computed here.
"""

"""What a design means: the route as a forest, the cut wires, and the electrical graph.

A `Design` comes in; a `Network` goes out, with the faults of the file that only show here: no way along the route, one
cavity passed twice, a cable's wires apart. No wire's length and no current is computed here.
"""

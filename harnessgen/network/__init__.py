"""What a design means: the route as a forest, the cut wires, and the electrical graph."""

"""The solver for hundreds of thousands of changes: a network partitioned at its busiest nodes into small independent
subnetworks.

A solved network and lists of changes come in; voltages and currents under each list go out, at the cost of the
subnetworks that it touches.
"""

"""Whether what the file says makes sense by itself: names that do not exist, figures that contradict each other.

A design comes in; faults of the file go out, each at the value that is to blame. No network and no physics are
needed.
"""

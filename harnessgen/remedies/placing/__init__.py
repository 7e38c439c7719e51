"""Better places for splices and breakouts: solved on the tree of the route, then run through every rule.

A network comes in; places that need less wire go out, as changed text of the design.
"""

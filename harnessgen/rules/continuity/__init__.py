"""Rules on paths that should exist and do not, and on paths that exist and should not: shorts, sneak paths, missing
grounds.

A solved network comes in; findings go out, each with the path that decides.
"""

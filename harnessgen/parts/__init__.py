"""Parts by generic family and the standard that describes them; a design lays its own over the packaged ones.

Data files (`data/`) and what a design declares come in; typed parts go out, each figure with its source.
"""

"""What the groups of rules share: where the file says what a rule speaks of, and words for figures that are from
memory.

A thing of the network comes in; the place to underline goes out, or the words for a verdict.
"""

"""What is known of one thing of a design, with where each number comes from.

A checked design and a name come in; facts and derivations go out. Each derivation is the one that the rules use.
"""

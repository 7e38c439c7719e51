"""Records that say what was found and where a number comes from: findings, rules, derivations and publications.

They are made by every later stage, and read by the documents. Nothing is computed here but a derivation from its own
inputs.
"""

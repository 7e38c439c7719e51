"""Records that say what was found and where a number comes from: findings, rules, derivations and publications.

They are made by every later stage and read by the documents; how many findings of one kind are listed is decided here
too (`listed`). Nothing is computed but a derivation from its own inputs.
"""

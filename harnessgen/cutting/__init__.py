"""Which cut comes from which piece of stock, with least waste, and what has to be bought.

Cuts of each kind of wire and the stock come in; a plan goes out, with the bound that it is held against.
"""

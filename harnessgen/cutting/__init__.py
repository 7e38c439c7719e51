"""Which cut comes from which piece of stock, with least waste, and what has to be bought."""

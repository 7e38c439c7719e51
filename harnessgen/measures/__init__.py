"""Quantities, conductor sizes, colours and designators: how the trade writes them, and what they are worth."""

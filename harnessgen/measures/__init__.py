"""Quantities, conductor sizes, colours and designators: how the trade writes them, and what they are worth.

Text comes in; values in base units with their tolerance go out, and back into text. This is the only place that
converts units.
"""

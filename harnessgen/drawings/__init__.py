"""Drawings of the trade made of marks: circuit symbols, connector faces, and the drawings that are composed of them."""

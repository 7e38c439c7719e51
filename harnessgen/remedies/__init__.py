"""Mends that are offered only after the changed design has been run and found good."""

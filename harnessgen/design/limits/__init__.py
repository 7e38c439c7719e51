"""Limits that a design can set, each with its default, its unit and the publication behind it.

What a file says under `limits` comes in; the value that applies goes out, with where it comes from.
"""

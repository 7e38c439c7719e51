"""Symbols: circuit symbols in the forms of IEC 60617, and face views of connectors.

The kind of a thing and its texts come in; marks around an origin of their own go out.
"""

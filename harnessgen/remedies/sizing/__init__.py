"""The smallest wires that a design can use: sizes of least copper that meet every rule in every state.

A network and the sizes on the shelf come in; a size for each wire goes out, with what is proved of it.
"""

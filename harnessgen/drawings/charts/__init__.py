"""Charts of time against current: when each fuse opens, and what the wires downstream of it withstand.

Protected wires come in; sheets with four charts each go out.
"""

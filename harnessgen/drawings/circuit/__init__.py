"""The circuit drawing: current flows from the supplies at the top of the sheet to the grounds at the bottom.

A network comes in; sheets go out. Its rooms: `elements` (what is drawn) < `placement` (where) < `pages` (which
sheet).
"""

"""Rules: each is a record in the catalogue, a check that gives findings, and a page that explains it.

A network or its physics comes in; findings go out, each at one value of the file. A rule never edits a design.
Its rooms: `cavity`, `continuity`, `bundle`, `loading`, `protection`, `reach` and `working`; `wording` has what they
share.
"""

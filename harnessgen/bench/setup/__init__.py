"""What a step is made with and on: instruments with their errors, the test lamp, connector halves, nets of a section,
the installed harness.

A network comes in; the nets and resistances that the tips of an instrument can reach go out. `step` has the records
of the procedure.
"""

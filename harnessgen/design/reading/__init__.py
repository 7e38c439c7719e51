"""From files to records: one main file with those that it includes, and circuits and banks expanded into runs of
wire.

The text of each file comes in through a function; records and runs go out, with the faults that were met.
"""

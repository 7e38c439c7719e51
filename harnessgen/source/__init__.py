"""From YAML text to typed records that remember the place of every value.

The text of a file and declared keys come in; records go out, or the faults of the file with line and column.
"""

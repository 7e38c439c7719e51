"""The form of every schedule: a table with typed columns, and lengths as a shop reads them.

Values in base units come in; columns and cells go out that each writer can format.
"""

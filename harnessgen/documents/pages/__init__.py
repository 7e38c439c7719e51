"""Pages: self-contained HTML for schedules and the procedure, and the Markdown reference of the file format and the
parts.

Tables, procedures and declared keys come in; one page goes out that needs no script and fetches nothing.
"""

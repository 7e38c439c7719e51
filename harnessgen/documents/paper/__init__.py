"""Paper: PDF of drawings, schedules, the procedure and the formboard at 1:1, typeset by typst in memory.

Sheets, tables and procedures come in; the bytes of a PDF go out, the same each time.
"""

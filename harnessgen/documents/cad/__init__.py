"""Files for drawing programs, plotters and routers: the formboard as DXF in millimetres.

The boards of all sections come in; the text of a DXF file goes out.
"""

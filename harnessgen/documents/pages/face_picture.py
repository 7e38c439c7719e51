"""Small face views for a page: a connector as it looks at the person who holds a tip to it."""

from dataclasses import replace

from harnessgen.drawings.layout.faces import face_data
from harnessgen.drawings.symbols.connector_face import face
from harnessgen.network.network import Network
from harnessgen.sheets.svg_writer import svg_text

_MARGIN_MM = 1.0
_LETTERS_MM = 1.9


def face_picture(network: Network, designator: str) -> str:
    """The mating side of a connector or half of a disconnect as SVG text, its size in millimetres."""
    data = replace(face_data(network, designator), view="mating side")
    view = face(data, _MARGIN_MM, _MARGIN_MM, _LETTERS_MM)
    return svg_text(view.marks, view.box.x1 + _MARGIN_MM, view.box.y1 + _MARGIN_MM, data.title)

"""Words of a design come out of the DXF letter by letter, whatever codes a reader of DXF knows."""

from io import StringIO

import ezdxf
import pytest
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.tools.text import plain_text

from harnessgen.documents.cad.formboard_dxf import text_in_dxf


@pytest.mark.parametrize(
    "text",
    [
        "%%d %%c %%p %%u %%o %%k", "100 %", "%%065", "%%%", "%%%%d", "5 %%", "^J ^I ^ ^ a", "a^b", "\\U+0041",
        "\\M+1 \\M+182A0",
        "{\\H3;x} \\P \\C1;", "\\\\U+0041", "=cmd|' /c calc'!A0", "plain words, 0.75 mm² ±5 °C",
    ],
)  # fmt: skip
def test_a_reader_of_dxf_reads_what_was_written(text: str) -> None:
    """Held to ezdxf, which reads a file and resolves its codes apart from how we write them.

    It drops a caret at the very end of a text, which no words of a design end in.
    """
    document = ezdxf.new("R2010")
    document.modelspace().add_text(text_in_dxf(text))
    stream = StringIO()
    document.write(stream)
    entity = ezdxf.read(StringIO(stream.getvalue())).modelspace()[0]
    assert plain_text(decode_dxf_unicode(entity.dxf.text)) == text


def test_the_reader_would_have_read_otherwise() -> None:
    """The codes mean something to that reader: without our writing the words would have changed."""
    assert plain_text("%%d") == "°"
    assert plain_text("^I") != "^I"
    assert decode_dxf_unicode("\\U+0041") == "A"

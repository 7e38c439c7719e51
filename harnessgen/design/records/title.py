"""Title block, units, zones and sections: what names the harness and its surroundings."""

from harnessgen.measures.quantity import TEMPERATURE, Quantity
from harnessgen.source.container import ListOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, Ref, Text
from harnessgen.source.measure_kind import Measure


@record
class Units(Record):
    """Units that bare numbers of this file take; a value can always carry its own."""

    length: str = key(
        "length", Choice(("mm", "cm", "m", "in", "ft")), "Unit of bare lengths.", default="mm", default_words="mm"
    )
    temperature: str = key(
        "temperature", Choice(("degC", "degF")), "Unit of bare temperatures.", default="degC", default_words="degC"
    )
    size: str = key(
        "size", Choice(("mm2", "AWG")), "System of bare conductor sizes.", default="mm2", default_words="mm2"
    )

    noun = "the units"
    example = """\
units: {length: in, size: AWG, temperature: degF}
"""


@record
class Title(Record):
    """Title block of the harness, printed on every document."""

    title: str = key("title", Text(), "What the harness is.")
    number: str = key("number", Text(), "Number of the harness; a section adds its letter (FS-210-A).")
    revision: str = key("revision", Text(), "Revision letter or number.")
    date: str = key("date", Text(), "Date of the revision, as it is to be printed.", default="")
    wire: tuple[str, ...] = key(
        "wire",
        ListOf(Ref("wire family")),
        "Wire family of every circuit that names none; of several, the first that has the circuit's size.",
        default=("thin-wall-125",),
        default_words="thin-wall-125",
    )
    contact: str = key(
        "terminal",
        Ref("contact"),
        "Terminal crimped where a wire lands straight on a device or ground point that names none.",
        default="ring-m6",
        default_words="ring-m6",
    )
    splice: str = key(
        "splice",
        Ref("splice family"),
        "Splice family of every splice that names none.",
        default="barrel-small",
        default_words="barrel-small",
    )

    noun = "the title block"
    example = """\
harness: {title: Fan harness for a delivery van, number: DV-12, revision: A, date: 2026-11-02, wire: thin-wall-125}
"""


@record
class Zone(Record):
    """A region of the vehicle with one ambient temperature."""

    ambient_degc: Quantity = key(
        "ambient", Measure(TEMPERATURE, lowest=-60, highest=400), "Highest ambient temperature there."
    )
    on: str = key(
        "on",
        Choice(("body", "engine")),
        "What it lies on: wires on an engine are shaken.",
        default="body",
        default_words="body",
    )

    noun = "a zone"
    shorthand = "ambient_degc"
    example = """\
zones: {cabin: 45 degC, engine-bay: 85 degC, plenum: {ambient: 248 degF, on: engine}}
"""


@record
class Section(Record):
    """A part of the harness between disconnects, built, tested and labelled by itself.

    Sections that are not named get the letters A, B, C ... in the order in which the route reaches them.
    """

    holds: str = key("holds", Ref("point"), "A point of the route that lies in it (not one with a disconnect).")
    title: str = key("title", Text(), "What it is, printed on its documents.", default="")

    noun = "a section"
    example = """\
sections:
  A: {holds: firewall, title: engine bay section}
  B: {holds: b1, title: plenum section}
"""

"""The shelf: families are read when they are asked for, and a design's own lie over them."""

import pytest

from harnessgen.design.reading.read import read_files
from harnessgen.parts.library import Parts, packaged_parts
from harnessgen.parts.packaged import PackagedFamilies, PackagedPartsError
from harnessgen.parts.terminal import Seal
from harnessgen.parts.wire import WireFamily
from harnessgen.source.container import RecordOf

SILICONE = """\
format: 2
parts:
  wires:
    thin-wall-125:
      title: silicone instead
      system: mm2
      rating: 200 degC
      sizes: {1: {area: 1 mm2, resistance: 19 mohm/m, diameter: 2.6 mm}}
"""


def test_a_family_is_read_once() -> None:
    """Whoever asks for it gets the same record."""
    families = PackagedFamilies("wires", RecordOf(WireFamily))
    assert families["boat-105"] is families["boat-105"]
    assert families["boat-105"].name == "boat-105"


def test_names_are_known_before_anything_is_read() -> None:
    """Tables and folders both give their names; what stands in neither is not there."""
    connectors = packaged_parts().connectors
    assert {"sealed-2", "trailer-13"} <= set(connectors)
    assert len(connectors) == len(list(connectors))
    assert "trailer-13" in connectors
    assert "trailer-14" not in connectors
    with pytest.raises(KeyError):
        connectors["trailer-14"]


def test_a_broken_data_file_is_a_fault_of_ours() -> None:
    """A family that is not of its kind is no family with defaults."""
    with pytest.raises(PackagedPartsError, match="wires boat-105"):
        PackagedFamilies("wires", RecordOf(Seal))["boat-105"]


def test_a_design_s_own_family_takes_the_place_of_a_packaged_one() -> None:
    """The others stay as they are, and the shelf itself is untouched."""
    design = read_files("own.yaml", lambda name: SILICONE).design
    assert design is not None
    laid = design.parts.over(packaged_parts())
    assert laid.wires["thin-wall-125"].title == "silicone instead"
    assert laid.wires["thin-wall-175"] is packaged_parts().wires["thin-wall-175"]
    assert set(laid.wires) == set(packaged_parts().wires)
    assert packaged_parts().wires["thin-wall-125"].rating_degc.value == 125
    assert Parts().over(packaged_parts()).seals is packaged_parts().seals

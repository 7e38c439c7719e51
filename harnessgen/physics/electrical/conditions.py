"""What an operating point is solved for: supply voltages, resistances, laws and switch positions of one case."""

from collections.abc import Mapping
from dataclasses import field
from enum import Enum

from harnessgen.measures.frozen import frozen
from harnessgen.physics.electrical.characteristics import WithDiode
from harnessgen.physics.nodal.newton import Character


class Case(Enum):
    """Which ends of the ranges a state is solved for; they are paired as physics pairs them."""

    STATED = "as stated"
    """Supplies and loads at their stated values, wires as hot as their zones."""
    STRONG = "coldest, highest supply"
    """Coils and conductors cold and at their least resistance, supplies at their highest: for the highest current."""
    WEAK = "hottest, lowest supply"
    """Coils and conductors as hot as their zones, supplies at their lowest: for drop and for the pull-in of relays."""


@frozen
class Conditions:
    """One state in one case. `supply_v` is the voltage without load of each supply, `ohms` by element.

    `characters` are the laws of elements that are no resistors, `diodes` the diodes across coils, both by element;
    `pull_in_v` is the coil voltage that closes each relay, by its designator.
    """

    state: str
    case: Case
    on: frozenset[str]
    supply_v: Mapping[str, float]
    ohms: Mapping[str, float]
    pull_in_v: Mapping[str, float]
    characters: Mapping[str, Character] = field(default_factory=dict)
    diodes: Mapping[str, WithDiode] = field(default_factory=dict)

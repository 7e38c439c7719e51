"""A vehicle of any size as text of a design: what the generated designs have, behind fuses and wires that carry it.

Each main fuse feeds eight others, so that the harness works as it stands; a single one would blow at some twenty loads.
"""

from random import Random
from typing import Any

from tests.drawings.generated import Maker, made_text

_FED = 8
"""Fuses behind each main fuse."""


def vehicle_text(seed: int, loads: int) -> str:
    """The text of the design of a vehicle with so many loads, in one section; the same seed gives the same text."""
    return made_text(_Vehicle(Random(seed), loads, 0), seed)


class _Vehicle(Maker):
    fed = _FED

    def _feed(self) -> None:
        """The main fuses come one by one, each with its splice."""

    def _fuse(self, fed_by: str) -> str:
        name = self._name("F")
        self.made["fuses"][name] = {
            "rating": "15 A", "at": "fusebox", "terminal": "tab-6.3", "title": self._words(2)
        }  # fmt: skip
        self._wire(fed_by, f"{name}/in", size="2.5 mm2")
        return name

    def _new_fuse(self) -> str:
        if self.fed == _FED:
            main, self.hot, self.fed = self._name("MF"), self._name("S"), 0
            self.made["fuses"][main] = {
                "rating": "40 A", "at": "fusebox", "terminal": "tab-6.3", "title": self._words(2)
            }  # fmt: skip
            self.made["splices"][self.hot] = "fusebox"
            self._wire("BAT", f"{main}/in", size="6 mm2")
            self._wire(main, self.hot, size="6 mm2")
        self.fed += 1
        return self._fuse(self.hot)

    def _load(self, point: str) -> tuple[str, str]:
        cavities = super()._load(point)
        values: dict[str, Any] = next(reversed(self.made["loads"].values()))
        values.pop("power", None)
        values["resistance"] = f"{self.rng.randint(10, 40)} ohm"
        return cavities

"""Random routes for the layout drawing: deep and bushy trees, coverings, zones, splices anywhere, disconnects."""

from random import Random
from typing import Any

import yaml

from tests.drawings.generated_fixings import fix

_LENGTHS_MM = (20, 35, 60, 90, 140, 220, 400, 900, 2500)
_COVERINGS = ("braid-8", "braid-12", "conduit-10", "conduit-13", "glass-10")
_BUILDS = ("+5/-0", "+10/-0", "+/- 3", "+25/-5")


def route_text(seed: int, *, loops: bool = False, fixings: bool = False) -> str:
    """The text of a design with a random route of 1 to 24 stretches and no circuit; the same seed, the same text.

    With `loops` a third of its stretches have slack, a drip loop or movement, or are built to a length of their own;
    with `fixings` about half have clips, tape or grommets.
    """
    design = _Route(Random(seed)).design()
    if loops:
        rng = Random(seed)
        for stretches in design["route"].values():
            for stretch in stretches.values():
                if rng.random() < 1 / 3:
                    kinds = rng.sample(("slack", "drip-loop", "movement"), rng.randint(0, 3)) or ["built"]
                    stretch |= {kind: f"{rng.randint(5, 400)} mm" for kind in kinds}
    if fixings:
        fix(Random(seed), design["route"])
    return yaml.safe_dump(design, sort_keys=False, width=1000)


class _Route:
    def __init__(self, rng: Random) -> None:
        self.rng = rng
        self.route: dict[str, dict[str, dict[str, Any]]] = {}
        self.points = ["start"]
        self.splices: dict[str, Any] = {}
        self.connectors: dict[str, Any] = {}
        self.disconnects: dict[str, Any] = {}

    def design(self) -> dict[str, Any]:
        bushy = self.rng.random()
        for number in range(self.rng.randint(1, 24)):
            self._stretch(self.points[-1] if self.rng.random() > bushy else self.rng.choice(self.points), f"p{number}")
        for number in range(self.rng.randint(0, 14)):
            self._connector(number)
        self._disconnect()
        made = {"connectors": self.connectors, "disconnects": self.disconnects, "splices": self.splices}
        return {
            "format": "2",
            "harness": {"title": "Random route", "number": "RR-1", "revision": "A"},
            "zones": {"cabin": "45 degC", "engine-bay": "90 degC"},
            "route": self.route,
            "grounds": {"G1": {"title": "block", "at": "start"}},
            **{name: value for name, value in made.items() if value},
        }

    def _stretch(self, start: str, end: str) -> None:
        length_mm = self.rng.choice(_LENGTHS_MM) + self.rng.randint(0, 30)
        stretch: dict[str, Any] = {"length": f"{length_mm} +/- 4 mm"}
        if self.rng.random() < 0.5:
            stretch["build"] = self.rng.choice(_BUILDS)
        if self.rng.random() < 0.4:
            stretch["covering"] = self.rng.choice(_COVERINGS)
        if self.rng.random() < 0.3:
            stretch["zone"] = self.rng.choice(("cabin", "engine-bay"))
        self.route.setdefault(start, {})[end] = stretch
        self.points.append(end)
        for _ in range(self.rng.choice((0, 0, 0, 1, 2, 4))):
            name = f"S{len(self.splices) + 1}"
            at, toward = self.rng.choice(((start, end), (end, start)))
            offset = self.rng.choice((0, self.rng.randint(1, length_mm - 1)))
            self.splices[name] = {"at": at, "offset": f"{offset} mm", "toward": toward}

    def _connector(self, number: int) -> None:
        part = self.rng.choice(("sealed-2", "sealed-4", "sealed-6"))
        half = self.rng.choice(("sockets", "pins"))
        self.connectors[f"C{number + 1}"] = {"part": part, "at": self.rng.choice(self.points), "half": half}

    def _disconnect(self) -> None:
        """A disconnect at a point with something on both sides of it."""
        inner = [point for point in self.route if point != "start"]
        if not inner or self.rng.random() < 0.4:
            return
        at = self.rng.choice(inner)
        before = next(start for start, stretches in self.route.items() if at in stretches)
        self.disconnects["X1"] = {"part": "sealed-4", "at": at, "socket-side": before}

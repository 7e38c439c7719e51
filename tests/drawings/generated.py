"""Random designs that are valid, as the text of a design file: what drawings have to cope with.

From 2 to 60 loads in banks, alone, behind switches and behind relays; up to three disconnects; long names; deep trees;
clips, tape and grommets on about half of the stretches.
The same seed gives the same text.
"""

from random import Random
from typing import Any

import yaml

from harnessgen.design.reading.read import read_files
from harnessgen.design.understand import understand
from harnessgen.measures.designator import segment_letters
from harnessgen.network.network import Network, build_network
from tests.drawings.generated_fixings import fix

_COLOURS = ("RD", "BK", "BU", "GN", "YE", "BN", "OG", "VT", "WH", "GY", "PK", "GNYE", "SR", "TQ")
_SIZES = ("0.5 mm2", "0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2")
_RATINGS = ("3 A", "5 A", "7.5 A", "10 A", "15 A", "20 A")
_WORDS = ("front", "rear", "left", "right", "upper", "washer", "headlamp", "main", "beam", "auxiliary", "cooling")
_KINDS = ("resistor", "coil", "motor", "lamp")


def design_text(seed: int, loads: int | None = None, disconnects: int | None = None) -> str:
    """The text of a design; the seed chooses what is not given: 2 to 60 `loads`, mostly few, 0 to 3 `disconnects`."""
    rng = Random(seed)
    count = loads if loads is not None else min(60, 2 + int(rng.expovariate(1 / 5)))
    cuts = disconnects if disconnects is not None else rng.choice((0, 0, 1, 1, 2, 3))
    return made_text(Maker(rng, count, cuts), seed)


def made_text(maker: "Maker", seed: int) -> str:
    """The text of the design of a maker, with what is fixed along its route."""
    design = maker.design()
    fix(Random(seed), design["route"])
    return yaml.safe_dump(design, sort_keys=False, width=1000)


def network_of(text: str) -> Network:
    """The network of a design that must have no fault of the file.

    Raises:
        ValueError: there is a fault.
    """
    understood = understand(read_files("generated.yaml", lambda name: text))
    if understood.expanded is None or understood.faults:
        raise ValueError([f"{each.place} {each.message} {each.mend}" for each in understood.faults])
    network = build_network(understood.expanded, understood.parts)
    if network.faults:
        raise ValueError([f"{each.place} {each.message} {each.mend}" for each in network.faults])
    return network


class Maker:
    """Makes a design: a supply, one way from it to all fuses, and loads in every kind of circuit."""

    def __init__(self, rng: Random, loads: int, disconnects: int) -> None:
        self.rng = rng
        self.passed: dict[str, list[str]] = {"fusebox": []}
        """Disconnects between the fuse box and each point."""
        self.depth: dict[str, int] = {"fusebox": 0}
        self.used: dict[str, int] = {}
        """Cavities used so far, by connector or disconnect."""
        self.numbers: dict[str, int] = {}
        self.long_names = rng.random() < 0.25
        self.parts: dict[str, Any] = {}
        self.made: dict[str, Any] = {
            name: {}
            for name in (
                "route", "connectors", "disconnects", "splices", "grounds", "fuses", "relays", "switches", "drivers",
                "loads", "circuits", "banks",
            )
        }  # fmt: skip
        self.loads_left = loads
        self._lay_route(loads, disconnects)

    def design(self) -> dict[str, Any]:
        self._feed()
        makers = (self._bank, self._bank, self._alone, self._switched, self._relayed, self._with_change_over)
        while self.loads_left:
            self.rng.choice(makers)()
        for name, disconnect in self.made["disconnects"].items():
            self._family(disconnect["part"], max(1, self.used.get(name, 0)))
        title = f"Generated harness {self._words(3)}"
        head = {"format": "2", "harness": {"title": title, "number": "GN-1", "revision": "A", "splice": "barrel-large"}}
        supply = {"BAT": {"voltage": "13.8 V", "at": "battery", "title": "battery positive"}}
        kept = {name: value for name, value in self.made.items() if value}
        return head | kept | {"supplies": supply, "parts": {"connectors": self.parts}}

    def _name(self, stem: str) -> str:
        self.numbers[stem] = number = self.numbers.get(stem, 0) + 1
        return f"{stem}{number}"

    def _words(self, most: int) -> str:
        count = most * 3 if self.long_names else most
        return " ".join(self.rng.choice(_WORDS) for _ in range(self.rng.randint(1, count)))

    def _load_name(self) -> str:
        return self._name("AUXILIARY-WASHER-PUMP-" if self.long_names and self.rng.random() < 0.3 else "LD")

    def _lay_route(self, loads: int, disconnects: int) -> None:
        def length() -> str:
            return f"{self.rng.randint(40, 900)} +/- {self.rng.randint(2, 9)} mm"

        route = self.made["route"]
        route["battery"] = {"fusebox": length()}
        route["fusebox"] = {"engine-block": length()}
        for index in range(max(2, loads // 2)):
            known = list(self.passed)
            parent = known[-1] if self.rng.random() < 0.5 else self.rng.choice(known)
            point = f"p{index}"
            behind = self.passed[parent]
            if disconnects and len(behind) < 3 and self.rng.random() < 0.6:
                disconnects -= 1
                name, cut = self._name("X"), f"cut{index}"
                route.setdefault(parent, {})[cut] = length()
                self.made["disconnects"][name] = {"part": f"inline-{name}", "at": cut, "socket-side": parent}
                parent, behind = cut, [*behind, name]
            route.setdefault(parent, {})[point] = length()
            self.passed[point] = behind
        self.made["grounds"]["G1"] = {"title": "engine block", "at": "engine-block"}

    def _family(self, name: str, ways: int) -> str:
        rows = min(8, 1 + ways // 8)
        figures = {"title": name, "ways": ways, "rows": rows, "contact": "pin-2.8", "rating": "140 degC"}
        self.parts[name] = figures | {"source": "invented for a test", "standing": "from memory"}
        return name

    def _place(self) -> str:
        return self.rng.choice(list(self.passed)[1:])

    def _cavity(self, connector: str) -> str:
        self.used[connector] = self.used.get(connector, 0) + 1
        return f"{connector}/{self.used[connector]}"

    def _through(self, point: str, start: str = "fusebox") -> list[str]:
        return [self._cavity(each) for each in self.passed[point][len(self.passed[start]) :]]

    def _connector(self, point: str, ways: int, mate: str = "") -> str:
        name = self._name("C")
        self.made["connectors"][name] = {"part": self._family(f"plug-{ways}", ways), "at": point}
        if mate:
            self.made["connectors"][name]["mate"] = mate
        return name

    def _wire(self, start: str, end: str, point: str = "fusebox", **more: Any) -> str:
        """A circuit of one run between the fuse box and a point."""
        number = str(10 + len(self.made["circuits"]) + 2 * len(self.made["banks"]))
        self.made["circuits"][number] = {"from": start, "to": end, **self._look(), **more}
        if through := self._through(point):
            self.made["circuits"][number]["through"] = through
        return number

    def _look(self) -> dict[str, str]:
        base, stripe = self.rng.sample(_COLOURS, 2)
        striped = len(base) == 2 and len(stripe) == 2 and self.rng.random() < 0.6
        return {"color": f"{base}/{stripe}" if striped else base, "size": self.rng.choice(_SIZES)}

    def _feed(self) -> None:
        """Battery, main fuse, often a main relay, and a splice (or the relay itself) from which all fuses are fed."""
        main = self._fuse("BAT")
        hot = main
        if self.rng.random() < 0.5:
            hot = self._relay(main, main if self.rng.random() < 0.5 else self._fuse("BAT"), self.rng.random() < 0.3)
        splice = self._name("S")
        self.made["splices"][splice] = "fusebox"
        self._wire(hot, splice)
        self.hot = splice

    def _fuse(self, fed_by: str) -> str:
        name = self._name("F")
        rating = self.rng.choice(_RATINGS)
        self.made["fuses"][name] = {"rating": rating, "at": "fusebox", "terminal": "tab-6.3", "title": self._words(2)}
        self._wire(fed_by, f"{name}/in")
        return name

    def _new_fuse(self) -> str:
        return self._fuse(self.hot if self.rng.random() < 0.8 else "BAT")

    def _relay(self, power: str, coil_feed: str, change_over: bool = False) -> str:
        name = self._name("K")
        part = "plug-in-change-over" if change_over else "plug-in-make"
        self.made["relays"][name] = {"part": part, "at": "fusebox", "terminal": "tab-6.3", "title": self._words(2)}
        self._wire(power, f"{name}/30")
        self._wire(coil_feed, f"{name}/86")
        if self.rng.random() < 0.4:
            self._wire(f"{name}/85", "G1")
        else:
            cavity = self._output()
            self._wire(f"{name}/85", cavity, self.out_at)
        return f"{name}/87"

    def _output(self) -> str:
        """Cavity of a fresh low-side output of a controller."""
        controllers = [name for name, each in self.made["connectors"].items() if each.get("mate") == "controller"]
        if not controllers or self.used[controllers[-1]] >= 24:
            controllers.append(self._connector(self._place(), 26, "controller"))
            ground = self._cavity(controllers[-1])
            self._wire(ground, "G1", self.made["connectors"][controllers[-1]]["at"])
        self.controller = controllers[-1]
        cavity = self._cavity(self.controller)
        ends = {"out": cavity, "ground": f"{self.controller}/1"}
        self.made["drivers"][self._name("Q")] = {
            "title": f"output {self._words(1)}",
            "current": "8 A",
            "terminals": ends,
        }
        self.out_at = self.made["connectors"][self.controller]["at"]
        return cavity

    def _load(self, point: str) -> tuple[str, str]:
        """Feed and return cavity of a new load."""
        self.loads_left -= 1
        name, connector = self._load_name(), self._connector(point, 2)
        values: dict[str, Any] = {"title": self._words(2), "kind": self.rng.choice(_KINDS), "connector": connector}
        values |= {"resistance": f"{self.rng.randint(1, 40)} ohm"} if self.rng.random() < 0.6 else {"power": "55 W"}
        self.made["loads"][name] = values
        return f"{connector}/1", f"{connector}/2"

    def _return(self, cavity: str, point: str) -> None:
        self._wire(cavity, "G1", point)

    def _alone(self) -> None:
        point = self._place()
        feed, back = self._load(point)
        self._wire(self._new_fuse(), feed, point)
        self._return(back, point)

    def _switched(self) -> None:
        """One switch for one load, or for two through a splice."""
        panel, fuse = self._place(), self._new_fuse()
        name, connector = self._name("SW"), self._connector(panel, 2)
        ends = {"in": f"{connector}/1", "out": f"{connector}/2"}
        self.made["switches"][name] = {"title": self._words(2), "terminals": ends}
        self._wire(fuse, ends["in"], panel)
        splice = self._name("S")
        self.made["splices"][splice] = "fusebox"
        self._wire(ends["out"], splice, panel)
        for _ in range(min(2, self.loads_left)):
            point = self._place()
            feed, back = self._load(point)
            self._wire(splice, feed, point)
            self._return(back, point)

    def _relayed(self) -> None:
        fuse, point = self._new_fuse(), self._place()
        hot = self._relay(fuse, fuse if self.rng.random() < 0.5 else self._new_fuse())
        feed, back = self._load(point)
        self._wire(hot, feed, point)
        self._return(back, point)

    def _with_change_over(self) -> None:
        fuse = self._new_fuse()
        hot = self._relay(fuse, self._new_fuse(), change_over=True)
        for terminal in (hot, f"{hot}a")[: self.loads_left]:
            point = self._place()
            feed, back = self._load(point)
            self._wire(terminal, feed, point)
            self._return(back, point)

    def _bank(self) -> None:
        count = min(self.loads_left, self.rng.randint(2, 8))
        if count < 2:
            return self._alone()
        first = self._place()
        others = [
            point for point, behind in self.passed.items() if behind[: len(self.passed[first])] == self.passed[first]
        ]
        name = f"bank{len(self.made['banks'])}"
        splices = self._name("S"), self._name("S")
        self.made["splices"] |= dict.fromkeys(splices, first)
        loads: dict[str, Any] = {}
        for _ in range(count):
            point = self.rng.choice([each for each in others if each != "fusebox"])
            load: dict[str, Any] = {"at": point, "title": self._words(2)}
            loads[self._load_name()] = load
            if self.passed[point] != self.passed[first]:
                load.update({side: {"through": self._through(point, first)} for side in ("feed", "return")})
        self.loads_left -= count
        stem = f"B{segment_letters(len(self.made['banks']))}"
        fuse, out = self._new_fuse(), self._output()
        side = {"trunk-size": "1.5 mm2", "leg-size": "0.75 mm2"}
        colours = self._look()["color"], self._look()["color"]
        number = 10 + len(self.made["circuits"]) + 2 * len(self.made["banks"])
        feed: dict[str, Any] = {"circuit": str(number), "from": fuse, "splice": splices[0], "color": colours[0], **side}
        back: dict[str, Any] = {
            "circuit": str(number + 1),
            "to": out,
            "splice": splices[1],
            "color": colours[1],
            **side,
        }
        if through := self._through(first):
            feed["through"] = through
        if through := self._between(first, self.out_at):
            back["through"] = through
        plug = {"part": self._family("plug-2", 2), "first": f"{stem}1"}
        self.made["banks"][name] = {"load": "injector-saturated", "connector": plug, "loads": loads, "feed": feed} | {
            "return": back
        }
        return None

    def _between(self, start: str, end: str) -> list[str]:
        """Cavities of the disconnects on the way between two points."""
        one, other = self.passed[start], self.passed[end]
        same = next((i for i, pair in enumerate(zip(one, other, strict=False)) if pair[0] != pair[1]), None)
        same = min(len(one), len(other)) if same is None else same
        return [self._cavity(each) for each in (*one[same:], *other[same:])]

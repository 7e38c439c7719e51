"""Networks for tests: drawn by hypothesis, and one shaped like a harness."""

import random
from dataclasses import dataclass

from hypothesis import strategies as st

from harnessgen.physics.nodal.solution import ResistiveNetwork, Resistor, assemble

OHMS = st.floats(-6.0, 7.0).map(lambda exponent: float(10.0**exponent))


@dataclass(frozen=True)
class Drawn:
    """A network as drawn: nodes 0 and 1 are fixed."""

    node_count: int
    resistors: list[Resistor]
    fixed: dict[int, float]

    def assembled(self) -> ResistiveNetwork:
        return assemble(self.node_count, self.resistors, self.fixed)


@st.composite
def drawn_networks(draw: st.DrawFn, most_nodes: int = 7, most_resistors: int = 12) -> Drawn:
    """Any network, with parts that float, parallel resistors and resistors from a node to itself."""
    count = draw(st.integers(3, most_nodes))
    node = st.integers(0, count - 1)
    resistors = draw(st.lists(st.builds(Resistor, node, node, OHMS), min_size=1, max_size=most_resistors))
    return Drawn(count, resistors, {0: 12.0, 1: draw(st.sampled_from([0.0, -3.5]))})


def harness_network(circuits: int, seed: int = 5) -> Drawn:
    """Banks of loads between a battery with its resistance and a ground stud, with contacts of milliohms.

    Node 0 is the battery's ideal pole, node 1 its other pole; bus and stud join all banks to one connected part.
    """
    chance = random.Random(seed)
    resistors = [Resistor(0, 2, 0.01), Resistor(3, 1, 0.002)]
    nodes = 4

    def chain(start: int, *ohms: float) -> int:
        nonlocal nodes
        for ohm in ohms:
            resistors.append(Resistor(start, nodes, ohm))
            start, nodes = nodes, nodes + 1
        return start

    while len(resistors) < circuits * 5:
        feed = chain(2, 0.005, chance.uniform(0.01, 0.1))
        joint = chain(feed, chance.uniform(0.01, 0.1), 0.003, chance.choice([5.0, 14.5, 60.0, 1e4, 1e6]), 0.003)
        for _ in range(chance.randrange(4)):
            end = chain(feed, chance.uniform(0.01, 0.1), 0.003, chance.choice([5.0, 14.5, 60.0, 1e4, 1e6]))
            resistors.append(Resistor(end, joint, chance.uniform(0.01, 0.1)))
        resistors.append(Resistor(chain(joint, 0.02), 3, 0.05))
    return Drawn(nodes, resistors, {0: 12.0, 1: 0.0})

"""How long a step takes, and how long it takes to bring the harness into the state that a block needs.

Common practice, no source: what a practised hand takes, writing included. Only the proportions matter.
"""

from harnessgen.bench.setup.step import Block, Phase, Step

_STEP_SECONDS = {
    Phase.LOOK: 15.0,
    Phase.CONTINUITY: 12.0,
    Phase.ISOLATION: 10.0,
    Phase.DROP: 30.0,
    Phase.THROUGH_LOADS: 12.0,
    Phase.LAMP_JOINED: 12.0,
    Phase.LAMP_APART: 10.0,
    Phase.FEEDS: 12.0,
    Phase.RETURNS_AT_REST: 12.0,
    Phase.LAMP_FED: 12.0,
    Phase.STATES: 20.0,
    Phase.LAMP_WORKED: 25.0,
    Phase.OUTPUTS: 25.0,
}
_SETUP_SECONDS = 60.0
_CONNECTOR_SECONDS = 10.0
"""To take one connector apart, or to mate it."""
_OUT_SECONDS = 5.0
"""To take one fuse or relay out of its holder."""
_CLIP_SECONDS = 8.0
"""To bring one contact into the clip that joins circuits."""


def step_seconds(block: Block, step: Step) -> float:
    """Time for one step of a block, in seconds."""
    return _STEP_SECONDS[block.setup.phase]


def setup_seconds(block: Block) -> float:
    """Time to set up for a block, in seconds: once, and by what has to be taken apart or out for it."""
    setup = block.setup
    clipped = max((len(step.joined) for step in block.steps), default=0)
    taken = _CONNECTOR_SECONDS * len(setup.apart) + _OUT_SECONDS * len(setup.out)
    return _SETUP_SECONDS + taken + _CLIP_SECONDS * clipped

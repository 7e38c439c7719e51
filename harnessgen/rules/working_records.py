"""The records of the rules on what has to work and what must not, and on what nothing uses."""

from harnessgen.evidence.finding import Severity
from harnessgen.evidence.publication import Publication, Standing, common_practice
from harnessgen.evidence.rule import Release, Requirement, Rule
from harnessgen.physics.electrical.kirchhoff import CURRENT_LAW

_ROOT = "harnessgen.rules.working"
_RUNNING = (Release.RUNNING,)
_LIVE = (Release.POWER, Release.RUNNING)

WORKING_RULES = (
    Rule(
        "not-working",
        Severity.ERROR,
        Requirement.PHYSICS,
        "a load that does not get what it works with in a state that lists it as working",
        f"{_ROOT}:not_working.md",
        (common_practice("share of its rated current from which a load counts as working"), CURRENT_LAW),
        f"{_ROOT}.not_working:check",
        f"{_ROOT}.not_working:gaps",
        withholds=_RUNNING,
    ),
    Rule(
        "over-voltage",
        Severity.ERROR,
        Requirement.PHYSICS,
        "a load or a relay's coil that gets more volts than it stands",
        f"{_ROOT}:over_voltage.md",
        (Publication("ISO 16750-2:2012", "4.3.1, overvoltage for an hour", Standing.FROM_MEMORY),),
        f"{_ROOT}.over_voltage:check",
        f"{_ROOT}.over_voltage:gaps",
        withholds=_LIVE,
    ),
    Rule(
        "reversed-polarity",
        Severity.ERROR,
        Requirement.PHYSICS,
        "a load or a relay's coil with a positive terminal that is fed the wrong way round",
        f"{_ROOT}:reversed_polarity.md",
        (common_practice("the drop of a wire is less than a volt"),),
        f"{_ROOT}.reversed_polarity:check",
        withholds=_LIVE,
    ),
    Rule(
        "exchanged-contacts",
        Severity.ERROR,
        Requirement.PHYSICS,
        "a change-over relay whose contacts 87 and 87a are exchanged",
        "harnessgen.rules.continuity:exchanged_contacts.md",
        (Publication("DIN 72552", "87 is the make contact, 87a the break contact", Standing.FROM_MEMORY),),
        "harnessgen.rules.continuity.exchanged_contacts:check",
    ),
    Rule(
        "relay-stays-on",
        Severity.ERROR,
        Requirement.PHYSICS,
        "a relay that holds itself and that no declared state switches off again",
        f"{_ROOT}:relay_stays_on.md",
        (common_practice(),),
        f"{_ROOT}.relay_stays_on:check",
        withholds=_LIVE,
    ),
    Rule(
        "parked-drain",
        Severity.ERROR,
        Requirement.PHYSICS,
        "a relay's coil that draws current while the vehicle stands parked",
        f"{_ROOT}:parked_drain.md",
        (common_practice("what leaks through an input is less than 5 mA"),),
        f"{_ROOT}.parked_drain:check",
        withholds=_RUNNING,
    ),
    Rule(
        "without-wire",
        Severity.WARNING,
        Requirement.PHYSICS,
        "a fuse, switch, relay contact, splice, connector or output that no wire uses",
        "harnessgen.rules.continuity:without_wire.md",
        (common_practice(),),
        "harnessgen.rules.continuity.without_wire:check",
    ),
)

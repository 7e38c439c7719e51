"""Cautions, each written once; the phases name those that matter in them."""

from harnessgen.bench.setup.step import Caution

LOCAL_RULES = Caution(
    "Rules",
    "Local codes and the rules of the workshop come first. Where the law asks for a licensed person, that person does"
    " this work or signs for it.",
)
BATTERY_OFF = Caution(
    "Battery off", "Battery disconnected, negative lead first, and the lead kept from falling back on its post."
)
MATING_CONTACT = Caution(
    "Contacts",
    "Touch a cavity only with a mating contact or a gauge pin of its size on a test lead: a fat tip spreads a socket"
    " for good. Never pierce insulation or a seal.",
)
NO_ELECTRONICS = Caution(
    "Electronics",
    "Loads, controllers, relays and fuses are out: no ohms across electronics, and never an insulation tester while any"
    " of it is connected.",
)
LIVE_PARTS = Caution(
    "Live parts",
    "Feeds stand at battery volts in the open connectors. One tip at a time, other hand away, no rings or metal strap;"
    " nothing loose near the open halves.",
)
FUSES_FIRST = Caution(
    "Fuses",
    "All fuses out, then connect the battery, then fit the fuses one at a time, the smallest first. A fuse that opens"
    " or a wire that warms ends the test: battery off, back to isolation.",
)
LAMP_IN_LEAD = Caution(
    "Lamp in the lead",
    "The lamp stays in the plus lead: it alone limits the current. A lead straight from the battery can burn a wire or"
    " the hand that holds it.",
)
NO_LED = Caution(
    "No LED",
    "The lamp is a filament. An LED burns on the few milliamperes of a leak, or of a controller at rest: it calls"
    " closed what is joined by dirt alone, and burns where these steps want it dark.",
)
SPARKS = Caution(
    "Sparks",
    "A tip that leaves a contact with current in it sparks. No fuel vapour and no battery gas about: air the engine"
    " bay, the bilge, the battery's place. A lead goes on a battery's post before its other end touches anything.",
)
AIRBAGS = Caution(
    "Airbags",
    "Never a lamp on a circuit of airbags or belt tensioners, nor on a controller's inputs and sensors: its current can"
    " fire the one and ruin the other.",
)
IGNITION_OFF = Caution(
    "Ignition",
    "Ignition disabled (coil feed or its fuse out; coils under test on spark testers), out of gear, wheels blocked: the"
    " engine can neither fire nor drive.",
)
FUEL = Caution(
    "Fuel",
    "Where an output works an injector or a fuel valve: pump fuse or relay out, rail pressure bled at its test"
    " valve into a closed container; a stopped pump alone leaves pressure. Fuel and vapour away, extinguisher at hand.",
)
HIGH_VOLTAGE = Caution(
    "High voltage",
    "Where an output works an ignition coil, every spark lead goes to a grounded spark tester, away from fuel: many"
    " kilovolts at the end of each pulse. With a lead open, or a hand near, the coil or the person takes them.",
)
MOVING_PARTS = Caution("Moving parts", "Motors and fans may start at once: hands, hair and sleeves clear.")
FILAMENT = Caution(
    "Filament lamps",
    "A cold filament takes about ten times its running current for a moment, and lights slowly: judge after a second.",
)

HEAT_OF_DROP = Caution(
    "Heat",
    "Fused lead or current-limited supply. Seconds only: take the reading and let go. A clip that gets warm is a poor"
    " contact of the clip.",
)

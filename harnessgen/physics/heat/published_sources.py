"""The publications whose tables of allowed currents a design can name."""

from harnessgen.evidence.publication import Publication, Standing

BOAT_SOURCE = Publication("33 CFR 183.425", "table 5, 30 degC ambient")
BOAT_ENGINE_SOURCE = Publication("33 CFR 183.425", "table 5 note 1, engine space of 50 degC")
BOAT_BUNDLE_SOURCE = Publication("ABYC E-11", "allowable amperage of bundled current-carrying conductors")
AIRCRAFT_SOURCE = Publication("MIL-W-5088L", "figure 3, single copper wire in free air, read from the plot, 2 %")
AIRCRAFT_BUNDLE_SOURCE = Publication("MIL-W-5088L", "bundle derating curves, as FAA AC 43.13-1B figure 11-6, read off")
AIRCRAFT_ALTITUDE_SOURCE = Publication("FAA AC 43.13-1B CHG 1", "figure 11-5, altitude derating")
SPACE_SOURCE = Publication(
    "ECSS-Q-ST-30-11C Rev.2", "annex C table C-3, copper in vacuum at 150 degC, surroundings of 70 degC"
)
SPACE_BUNDLE_SOURCE = Publication("MIL-STD-975M", "appendix A 3.16, bundle factor")

PUBLISHED_SOURCES = (
    BOAT_SOURCE,
    BOAT_ENGINE_SOURCE,
    BOAT_BUNDLE_SOURCE,
    AIRCRAFT_SOURCE,
    AIRCRAFT_BUNDLE_SOURCE,
    AIRCRAFT_ALTITUDE_SOURCE,
    SPACE_SOURCE,
    SPACE_BUNDLE_SOURCE,
)


def recalled(source: Publication) -> Publication:
    """The same place of a publication, for a figure in it that is from memory."""
    return Publication(source.document, source.place, Standing.FROM_MEMORY)

"""The two laws that every solved network rests on, as sources."""

from harnessgen.evidence.publication import Publication

CURRENT_LAW = Publication("Kirchhoff's current law", "what flows into a node flows out of it")
VOLTAGE_LAW = Publication("Kirchhoff's voltage law", "round the loop through supply, feed, load and return")

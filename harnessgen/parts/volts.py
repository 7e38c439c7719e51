"""What the keys on volts mean, which loads and relays share in the library and in a design."""

RATED = "Voltage that it is made for."
HIGHEST = "Highest voltage that it stands."
WORKS_FROM = "Least voltage at which it works as it should."
POSITIVE = "Terminal that has to be the positive one, where it matters."

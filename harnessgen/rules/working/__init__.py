"""Rules on what has to work and on what must not: loads that a state lists, their volts and polarity, relays that do
not let go, coils that draw current while the vehicle is parked.

The physics of a network comes in; findings go out, each with the state that shows it.
"""

"""Rules on what has to work and on what must not: loads that a state lists, their volts and polarity, relays that do
not let go.
"""

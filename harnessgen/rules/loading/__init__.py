"""Rules on current and heat: overload of wires, contacts and drivers, volts that loads and coils lack, suppression
of coils, and temperatures above a rating.

The physics of a network comes in; findings go out, each with the state that decides.
"""

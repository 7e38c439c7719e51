"""What each operating state means for what is in it: voltage drop at loads, stress of drivers, pull-in of relays,
fuel of a bank.

Solved states come in; volts, amperes, joules and fuel go out, each for its worst case.
"""

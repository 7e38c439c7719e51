"""Loads: resistance by temperature and state, and the current of coils and injectors whose output is pulsed.

Figures of a load and the volts that it gets come in; its current over a period goes out: peak, average and RMS.
"""

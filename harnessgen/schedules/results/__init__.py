"""Schedules of results: status, findings, limits that applied, volts at loads, test coverage and output tests.

Findings, solved states and proofs come in; one row for each finding, limit, load or fault class goes out.
"""

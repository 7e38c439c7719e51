"""Schedules of bundles: diameters and masses, coverings to cut, clips, tape and grommets, and the order of assembly.

Stretches of the route with their bundles come in; one row for each stretch, covering, fixing or constraint goes out.
"""

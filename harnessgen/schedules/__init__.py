"""What documents say, made once as typed rows: cut list, cavity charts, coverings, parts to buy, test coverage.

A network with its physics, findings or proof comes in; tables go out, from which CSV, HTML and paper are written.
Its rooms: `tables` < `wires` < `bundles` < this folder; `results` has findings, limits and tests.
"""

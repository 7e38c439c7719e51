"""Text for a person at a terminal: findings, explanations, rules, and the results of the commands.

Records come in; lines of plain text go out.
"""

"""The command line: arguments, one function for each command, files and the terminal.

What a person typed comes in; text, files and an exit status go out. All computing is left to the stages.
"""

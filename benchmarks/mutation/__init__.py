"""Mutation testing: deliberate faults in the program, one at a time, and whether a test notices."""

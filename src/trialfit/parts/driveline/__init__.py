"""Shafts of the driveline, and what was gauged along it."""

"""Cooling: what a radiator of a build does, calculated for its plot; there are no requirements yet."""

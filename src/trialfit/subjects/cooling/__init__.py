"""Cooling: what a radiator of a build does, worked out for its plot; nothing is asked of it here."""

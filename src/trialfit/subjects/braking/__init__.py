"""Braking: what the brakes of a build do, calculated for its plot; there are no requirements yet."""

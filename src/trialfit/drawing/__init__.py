"""Drawings: what was worked out, to look at."""

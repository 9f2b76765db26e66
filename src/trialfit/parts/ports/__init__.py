"""Ports, fittings and lines."""

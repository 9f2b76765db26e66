"""Brakes of an axle."""

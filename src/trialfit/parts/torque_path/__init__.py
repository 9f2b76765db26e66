"""Clutch, gearbox, final drive and hubs."""

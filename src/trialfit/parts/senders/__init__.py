"""Senders and gauges."""

"""Circuits of the loom."""

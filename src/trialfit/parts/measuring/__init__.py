"""Readings and stacks of them."""

"""The radiator."""

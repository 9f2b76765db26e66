"""Lifts, slings, cranes and stands."""

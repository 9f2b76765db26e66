"""Bolted joints and torque wrenches."""

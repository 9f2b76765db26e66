"""Solids of the drivetrain and of what is around it, and places measured on the car."""

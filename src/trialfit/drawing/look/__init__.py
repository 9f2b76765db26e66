"""The drivetrain in the car as a 3D page: solids, gaps, verdicts."""

"""A look at the drivetrain in the car: solids, gaps, verdicts."""

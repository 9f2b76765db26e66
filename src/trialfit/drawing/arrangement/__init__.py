"""The general arrangement: the car's drivetrain from the side and from above, to scale."""

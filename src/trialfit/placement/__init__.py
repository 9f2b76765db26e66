"""Where the drivetrain sits: solids, gaps between them, and the pose with the largest smallest margin."""

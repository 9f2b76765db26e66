"""What gearing asks for beside car, engine and gearbox: tyres and the speedometer."""
